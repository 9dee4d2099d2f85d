//! How time grows with the build.
