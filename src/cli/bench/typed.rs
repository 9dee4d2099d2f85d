//! What was typed for a calculator: sizes, stacks, torques, angles, with the option that is wrong in the message.
//!
//! A bare number is in the units of the project, or in degrees; nothing is guessed beyond that.

use anyhow::{Result, anyhow, bail};

use super::Asked;
use crate::hardware::{Fastener, decode};
use crate::units::{Decimal, Length, Size, Torque};

/// A size as the specs write it.
pub(super) fn size(option: &str, text: &str, asked: &Asked) -> Result<Length> {
    Size::parse(text, asked.style.unit).map(|size| size.length).map_err(|fault| anyhow!("--{option}: {fault}"))
}

/// A size above zero.
pub(super) fn positive(option: &str, text: &str, asked: &Asked) -> Result<Length> {
    let length = size(option, text, asked)?;
    if length > Length::ZERO { Ok(length) } else { Err(anyhow!("--{option}: `{text}` must be above zero")) }
}

/// A size that may be written with a minus.
pub(super) fn signed(option: &str, text: &str, asked: &Asked) -> Result<Length> {
    match text.trim().strip_prefix('-') {
        Some(rest) => Ok(Length::ZERO - size(option, rest, asked)?),
        None => size(option, text, asked),
    }
}

/// Several sizes between commas.
pub(super) fn sizes(option: &str, texts: &[String], asked: &Asked) -> Result<Vec<Length>> {
    texts.iter().map(|text| size(option, text, asked)).collect()
}

/// The layers of a stack, each above zero.
pub(super) fn layers(texts: &[String], asked: &Asked) -> Result<Vec<Length>> {
    texts.iter().map(|text| positive("stack", text, asked)).collect()
}

/// A torque, in the project's unit where none is written.
pub(super) fn torque(option: &str, text: &str, asked: &Asked) -> Result<Torque> {
    let bare = text.trim().ends_with(|c: char| c.is_ascii_digit());
    let read = if bare {
        Torque::parse(&format!("{} {}", text.trim(), asked.style.torque_word()))
    } else {
        Torque::parse(text)
    };
    read.map_err(|fault| anyhow!("--{option}: {fault}"))
}

/// The fastener that a part number names; what cannot be read is refused with what could be meant.
pub(super) fn fastener(option: &str, call: &str, asked: &Asked) -> Result<Fastener> {
    match decode(call, &asked.kit) {
        Ok(fastener) => Ok(fastener),
        Err(fault) => match &fault.help {
            Some(help) => bail!("--{option}: {fault}; {help}"),
            None => bail!("--{option}: {fault}"),
        },
    }
}

/// An angle in thousandths of a degree.
pub(super) fn angle(text: &str) -> Result<i64> {
    let number = text.trim().trim_end_matches("deg").trim_end_matches('°').trim_end();
    let degrees = Decimal::parse(number).map_err(|fault| anyhow!("--angle: {fault}"))?;
    Ok(degrees.micro() / 1_000)
}
