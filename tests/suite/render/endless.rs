//! Texts and templates that loop, double or nest without end: a clear fault, soon, in little memory.

use shophead::render::{Templates, check_text, lay_out};

use crate::build::bracket::bracket_document;

/// What is said of a text, asked on a thread with as little room as any has: nothing where it can be filled in.
fn said(text: String) -> Option<String> {
    let asked =
        std::thread::Builder::new().stack_size(2 << 20).spawn(move || check_text(&text, &serde_json::json!({})));
    asked.unwrap().join().unwrap().err().map(|fault| fault.message)
}

fn fault(text: String) -> String {
    said(text).expect("the text is refused")
}

const NO_END: &str = "this text cannot be filled in: it repeats or grows without end";

#[test]
fn loops_and_doubling_in_a_text_end() {
    let doubled = format!("{{% set s = 'abcdefgh' %}}{}{{{{ s }}}}", "{% set s = s ~ s %}".repeat(40));
    let shared = format!("{{% set s = [1] %}}{}{{{{ s }}}}", "{% set s = [s, s] %}".repeat(40));
    let kept = "{% for i in range(9999) %}{{ 'x' * 20000 }}{% endfor %}".to_owned();
    let many = "{% for i in range(99999) %}{% for j in range(99999) %}{% endfor %}{% endfor %}".to_owned();
    let wide = "{{ 'x' * 999999999 }}".to_owned();
    let format = "{{ '%999999999d'|format(1) }}".to_owned();
    let replaced = "{{ ('x' * 9999)|replace('x', 'y' * 9999) }}".to_owned();
    let indented = "{{ ('\n' * 9999)|indent(99999) }}".to_owned();
    let batched = "{{ range(99999)|batch(99999999)|list }}".to_owned();
    let joined = "{{ range(99999)|join('x' * 9999) }}".to_owned();
    let macros = "{% macro m(n) %}{{ m(n) }}{{ m(n) }}{% endmacro %}{{ m(1) }}".to_owned();
    for text in [doubled, shared, kept, many, wide, format, replaced, indented, batched, joined] {
        assert_eq!(fault(text.clone()), NO_END, "{}", &text[..text.len().min(60)]);
    }
    assert!(fault(macros).contains("recursion limit"));
    assert!(fault("{{ namespace(a=1) }}".to_owned()).contains("namespace"));
}

#[test]
fn long_chains_and_deep_nests_do_not_overflow_the_stack() {
    for (open, one, close) in [
        ("{{ 1", "+1", " }}"),
        ("{{ ", "not ", "x }}"),
        ("{{ ", "-", "x }}"),
        ("{{ x", "|abs", " }}"),
        ("{{ x", ".a", " }}"),
        ("{{ x", "()", " }}"),
        ("{{ x", "[0]", " }}"),
        ("{{ ", "(", " }}"),
        ("{{ ", "[", " }}"),
        ("{{ x", " if x else x", " }}"),
        ("{% if x %}", "{%elif x%}", "{% endif %}"),
        ("", "{% if x %}", ""),
        ("{% for ", "(", "x in x %}{% endfor %}"),
        ("{{ x", " is x", " }}"),
        ("{{ x", "~x", " }}"),
        ("{{ x", "**x", " }}"),
        ("{{ x", " and x", " }}"),
    ] {
        let most = 20_000 - open.len() - close.len();
        let longest = format!("{open}{}{close}", one.repeat(most / one.len()));
        // `1+1+1` is a number in the end; all others name what is not there, are open or too deep.
        assert_eq!(said(longest).is_none(), one == "+1", "{one}");
        let longer = fault(format!("{open}{}{close}", one.repeat(20_001 / one.len() + 1)));
        assert!(longer.starts_with("the text has ") && longer.ends_with("; the most is 20000"), "{one}: {longer}");
    }
}

#[test]
fn templates_are_bounded_in_work_in_length_and_in_depth() {
    let said = |text: &str| {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("packet.typ.j2"), text).unwrap();
        let printed =
            Templates::load(Some(folder.path())).and_then(|own| lay_out(&bracket_document(), &own).map(|_| ()));
        printed.unwrap_err().message
    };
    let no_end = "the template cannot be filled in: it repeats or grows without end";
    let doubled = format!("{{% set s = 'abcdefgh' %}}{}{{{{ s }}}}", "{% set s = s ~ s %}".repeat(40));
    let shared = format!("{{% set s = ['a'] %}}{}{{{{ s }}}}", "{% set s = [s, s] %}".repeat(40));
    let many = "{% for i in range(99999) %}{% for j in range(99999) %}{% endfor %}{% endfor %}";
    for text in [doubled.as_str(), shared.as_str(), many] {
        let message = said(text);
        assert!(message.starts_with(no_end), "{message}");
    }
    let nested = format!("{{% set s = ['a'] %}}{}{{{{ s }}}}", "{% set s = [s] %}".repeat(80));
    assert!(said(&nested).contains("nested too deep"));
    for one in ["-", "(", "not ", "[", "-x+"] {
        said(&format!("{{{{ {}x }}}}", one.repeat(32_000 / one.len())));
    }
    assert!(said(&" ".repeat(200_000)).contains("200000 bytes; the most is 32768"));
}
