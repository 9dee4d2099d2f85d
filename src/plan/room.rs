//! ROOM: what a sheet says of the next larger rivet: its hole, its name, and why it is not judged.
//!
//! Whether there is room is computed in `job`. Whether a hole may be opened at all is for the plans to say.

use crate::hardware::{Fastener, nominal_hole};
use crate::job::{Joint, Room};
use crate::phrase::say;
use crate::units::{Length, Size};

/// The room of a joint with its smallest edge distance, or why it is not judged.
pub(super) fn room(joint: &Joint) -> Result<(Room, Length), &'static str> {
    let Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)) = &joint.fastener else {
        return Err(say!("ask before enlarging the hole of a bolt or screw"));
    };
    let room = joint.room_for_next().ok_or(say!("there is no larger rivet in the tables"))?;
    let edge = joint.least_edge().ok_or(say!("no edge distance is given"))?;
    Ok((room, edge))
}

/// The next larger rivet and its hole; a kit's own rivet has no next size in any table.
pub(super) fn next_hole(joint: &Joint) -> Option<(Length, Size)> {
    let next = joint.next_rivet()?;
    let mut larger = joint.fastener.as_ref().ok().filter(|fastener| fastener.kit().is_none())?.clone();
    match &mut larger {
        Fastener::SolidRivet(rivet) => rivet.diameter = next,
        Fastener::BlindRivet(rivet) => rivet.diameter = next,
        _ => return None,
    }
    Some((next, nominal_hole(&larger)?.value))
}
