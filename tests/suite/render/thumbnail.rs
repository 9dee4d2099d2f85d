//! Photos as small grey pictures: the right size, the right shades, and what is no photo or a broken one told apart.

use shophead::render::thumbnail;

/// A grey picture as PNG: stored blocks of deflate, so that no library is needed. PNG specification, sections 5 and 10.
pub fn png(width: u32, height: u32, shade: impl Fn(u32, u32) -> u8) -> Vec<u8> {
    fn chunk(kind: [u8; 4], data: &[u8]) -> Vec<u8> {
        let body = [kind.as_slice(), data].concat();
        let crc = !body.iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 })
        });
        [&u32::try_from(data.len()).unwrap().to_be_bytes(), body.as_slice(), &crc.to_be_bytes()].concat()
    }
    let rows: Vec<u8> = (0..height)
        .flat_map(|y| std::iter::once(0).chain((0..width).map(move |x| (x, y)).map(|(x, y)| shade(x, y))))
        .collect();
    let (a, b) = rows.iter().fold((1_u32, 0_u32), |(a, b), byte| {
        let a = (a + u32::from(*byte)) % 65_521;
        (a, (a + b) % 65_521)
    });
    let mut stored = vec![0x78, 0x01];
    let blocks: Vec<&[u8]> = rows.chunks(60_000).collect();
    for (at, block) in blocks.iter().enumerate() {
        let length = u16::try_from(block.len()).unwrap();
        stored.push(u8::from(at + 1 == blocks.len()));
        stored.extend(length.to_le_bytes());
        stored.extend((!length).to_le_bytes());
        stored.extend(*block);
    }
    stored.extend((b << 16 | a).to_be_bytes());
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 0, 0, 0, 0]].concat();
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(*b"IHDR", &head), chunk(*b"IDAT", &stored), chunk(*b"IEND", &[])].concat()
}

#[test]
fn a_photo_becomes_a_small_grey_picture_of_the_same_shape() {
    // Left half black, right half white.
    let photo = png(800, 400, |x, _| if x < 400 { 0 } else { 255 });
    let picture = thumbnail(&photo).unwrap().unwrap();
    assert_eq!((picture.width, picture.height), (484, 242));
    assert_eq!(picture.grey.len(), 484 * 242);
    let row = &picture.grey[484 * 60..];
    assert_eq!((picture.grey[10], picture.grey[450]), (0, 255), "{:?}", &row[..8]);
}

#[test]
fn what_is_no_photo_has_no_picture_and_a_broken_photo_is_refused() {
    assert_eq!(thumbnail(b"Dear builder, leave the rivet as it is.").unwrap(), None);
    assert_eq!(thumbnail(b"").unwrap(), None);
    let photo = png(40, 40, |_, _| 9);
    for length in [9, 40, photo.len() / 2] {
        assert!(thumbnail(&photo[..length]).is_err(), "cut after {length} bytes");
    }
}
