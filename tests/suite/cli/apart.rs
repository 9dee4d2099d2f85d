//! A builder's own template that runs without end, fills the memory or nests without end is stopped, and the rest goes on.

use std::time::Duration;

use crate::build::shop::Shop;

const PAGE: &str =
    "#import \"base.typ\": own-mark\n#set page(width: 200mm, height: 200mm, footer: own-mark)\n#repr({{ head }})\n";

/// A small project whose own library does something before anything is printed.
fn with_library(code: &str) -> Shop {
    let shop = Shop::small();
    shop.write("templates/packet.typ.j2", format!("#import \"more.typ\": more\n{PAGE}#more\n"));
    shop.write("templates/more.typ", format!("#let more = {{\n{code}\n[]\n}}\n"));
    shop
}

/// What is left in the output folder.
fn left(shop: &Shop) -> Vec<String> {
    let all = std::fs::read_dir(shop.path("output")).into_iter().flatten();
    all.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
}

#[test]
fn a_library_without_end_is_stopped_and_named() {
    let loops = with_library("for i in range(20000) { for j in range(20000) { for k in range(20000) { } } }");
    let ran = loops.run_apart(&["packet"], Duration::from_secs(2));
    assert_eq!((ran.code, left(&loops)), (1, Vec::new()), "{ran:?}");
    let said = "printing takes longer than 2 s and was stopped; it is printed with templates of your own: ";
    assert!(ran.err.contains(said) && ran.err.contains("templates/more.typ"), "{}", ran.err);

    // One document of its own: `board` fails as a whole.
    loops.write("templates/board.typ.j2", "#import \"more.typ\": more\n#more\n");
    let board = loops.run_apart(&["board", "--now", "2026-03-02T18:00"], Duration::from_secs(2));
    assert!(board.code == 2 && board.err.contains(said), "{board:?}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_library_that_fills_the_memory_is_stopped_and_named() {
    for code in ["let a = (1,); for i in range(60) { a = a + a }", "let s = \"abcdefgh\" * 900000000; s.len()"] {
        let shop = with_library(code);
        let ran = shop.run(&["packet"]);
        assert_eq!((ran.code, left(&shop)), (1, Vec::new()), "{code}: {ran:?}");
        let said = "printing takes more than 2 GB of memory or nests without end, and was stopped";
        assert!(ran.err.contains(said) && ran.err.contains("templates/more.typ"), "{code}: {}", ran.err);
    }
}

#[test]
fn own_templates_print_the_same_apart_and_here() {
    let shop = with_library("");
    let here = shop.twin();
    assert_eq!(shop.run(&["packet"]).code, 0);
    assert_eq!(here.run_watched(&["packet"], std::sync::Arc::new(|_, _| Ok(()))).code, 0);
    let name = left(&shop).pop().unwrap();
    let pdf = |shop: &Shop| std::fs::read(shop.path(&format!("output/{name}"))).unwrap();
    assert_eq!(pdf(&shop), pdf(&here));
}
