//! What the tables promise: a call built from any row passes every rule of its family, one step out fails the rule concerned.
