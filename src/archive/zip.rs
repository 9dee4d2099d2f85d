//! One file from many: a zip archive without compression, so that any system opens it and the same files give the
//! same bytes.
//!
//! Only what handing over needs: stored entries, UTF-8 names, one fixed date. Format: APPNOTE.TXT 6.3 (PKZIP), sections 4.3.7,
//! 4.3.12 and 4.3.16; CRC-32 as in ISO/IEC 8802-3, reflected polynomial EDB88320. No zip64: it refuses what needs it.

const LOCAL: u32 = 0x0403_4b50;
const CENTRAL: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;
/// Version 1.0 is needed to read stored entries.
const VERSION: u16 = 10;
/// Names are UTF-8.
const UTF8: u16 = 0x0800;
/// 1 January 1980, the first day that the form knows.
const DATE: u16 = 0x0021;

/// A zip archive in the making.
#[derive(Debug, Default)]
pub struct Zip {
    bytes: Vec<u8>,
    directory: Vec<u8>,
    count: u16,
}

/// Why a file does not fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooLarge;

impl std::fmt::Display for TooLarge {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("more than a zip file holds: 65,535 files or 4 GiB; copy the folder instead")
    }
}

impl std::error::Error for TooLarge {}

fn half(out: &mut Vec<u8>, values: &[u16]) {
    for value in values {
        out.extend(value.to_le_bytes());
    }
}

fn word(out: &mut Vec<u8>, values: &[u32]) {
    for value in values {
        out.extend(value.to_le_bytes());
    }
}

impl Zip {
    /// Adds a file.
    ///
    /// # Errors
    /// When the archive would become larger than its form allows.
    pub fn add(&mut self, name: &str, bytes: &[u8]) -> Result<(), TooLarge> {
        let at = u32::try_from(self.bytes.len()).map_err(|_| TooLarge)?;
        let size = u32::try_from(bytes.len()).map_err(|_| TooLarge)?;
        let length = u16::try_from(name.len()).map_err(|_| TooLarge)?;
        self.count = self.count.checked_add(1).ok_or(TooLarge)?;
        let crc = crc32(bytes);
        word(&mut self.bytes, &[LOCAL]);
        half(&mut self.bytes, &[VERSION, UTF8, 0, 0, DATE]);
        word(&mut self.bytes, &[crc, size, size]);
        half(&mut self.bytes, &[length, 0]);
        self.bytes.extend(name.as_bytes());
        self.bytes.extend(bytes);
        word(&mut self.directory, &[CENTRAL]);
        half(&mut self.directory, &[VERSION, VERSION, UTF8, 0, 0, DATE]);
        word(&mut self.directory, &[crc, size, size]);
        half(&mut self.directory, &[length, 0, 0, 0, 0]);
        word(&mut self.directory, &[0, at]);
        self.directory.extend(name.as_bytes());
        Ok(())
    }

    /// The whole file.
    ///
    /// # Errors
    /// When the archive is larger than its form allows.
    pub fn finish(mut self) -> Result<Vec<u8>, TooLarge> {
        let at = u32::try_from(self.bytes.len()).map_err(|_| TooLarge)?;
        let size = u32::try_from(self.directory.len()).map_err(|_| TooLarge)?;
        self.bytes.append(&mut self.directory);
        word(&mut self.bytes, &[END]);
        half(&mut self.bytes, &[0, 0, self.count, self.count]);
        word(&mut self.bytes, &[size, at]);
        half(&mut self.bytes, &[0]);
        Ok(self.bytes)
    }
}

/// CRC-32 of bytes.
fn crc32(bytes: &[u8]) -> u32 {
    let table: Vec<u32> = (0_u32..256)
        .map(|byte| (0..8).fold(byte, |crc, _| if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 }))
        .collect();
    !bytes.iter().fold(u32::MAX, |crc, byte| (crc >> 8) ^ table[((crc ^ u32::from(*byte)) & 0xff) as usize])
}
