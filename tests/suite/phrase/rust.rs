//! Reads string literals in Rust source, and tells which are phrases.
//!
//! It knows comments, characters and brackets, and no more of the language.

/// A literal: where it begins, what it says, and the call that it is an argument of, innermost.
#[derive(Debug)]
pub struct Literal {
    pub at: usize,
    pub text: String,
    /// Name of the call, a macro's with its mark, and which of its arguments this begins.
    pub call: Option<(String, usize)>,
}

/// Every string literal of a source outside attributes and comments.
pub fn literals(source: &str) -> Vec<Literal> {
    let mut reader = Reader { source, at: 0, open: Vec::new(), found: Vec::new() };
    while reader.at < source.len() {
        reader.step();
    }
    reader.found
}

struct Reader<'a> {
    source: &'a str,
    at: usize,
    /// For each open bracket the name before it and the arguments behind.
    open: Vec<(String, usize)>,
    found: Vec<Literal>,
}

impl Reader<'_> {
    fn rest(&self) -> &str {
        &self.source[self.at..]
    }

    fn step(&mut self) {
        let rest = self.rest();
        let c = rest.chars().next().unwrap();
        let line_end = rest.find('\n').unwrap_or(rest.len());
        match c {
            _ if rest.starts_with("//") || rest.starts_with("#[") || rest.starts_with("#![") => self.at += line_end,
            '"' => self.literal(),
            '\'' => self.at += character(rest),
            '(' | '[' | '{' => {
                let before = &self.source[..self.at];
                let name =
                    before.rsplit(|c: char| !(c.is_alphanumeric() || "_!".contains(c))).next().unwrap().to_owned();
                self.open.push((name, 0));
                self.at += 1;
            }
            ')' | ']' | '}' => {
                self.open.pop();
                self.at += 1;
            }
            ',' => {
                if let Some(open) = self.open.last_mut() {
                    open.1 += 1;
                }
                self.at += 1;
            }
            c => self.at += c.len_utf8(),
        }
    }

    fn literal(&mut self) {
        let begin = self.at;
        let mut text = String::new();
        let mut letters = self.source[begin + 1..].char_indices();
        while let Some((at, c)) = letters.next() {
            match c {
                '"' => {
                    self.at = begin + at + 2;
                    break;
                }
                '\\' => match letters.next().unwrap().1 {
                    'n' => text.push('\n'),
                    '\n' => {
                        let rest = letters.as_str();
                        let blanks = rest.len() - rest.trim_start().len();
                        letters.by_ref().take(rest[..blanks].chars().count()).for_each(drop);
                    }
                    c => text.push(c),
                },
                c => text.push(c),
            }
        }
        self.found.push(Literal { at: begin, text, call: self.open.last().cloned() });
    }
}

/// Bytes of a character literal, or of the quote of a lifetime.
fn character(rest: &str) -> usize {
    let mut letters = rest.char_indices().skip(1);
    match letters.next() {
        Some((_, '\\')) => rest[2..].char_indices().skip(1).find(|(_, c)| *c == '\'').map_or(1, |(at, _)| at + 3),
        Some((_, c)) if letters.next().is_some_and(|(_, end)| end == '\'') => c.len_utf8() + 2,
        _ => 1,
    }
}

#[test]
fn literals_are_read_with_their_call() {
    let source = "// \"no\"\nlet c = '\"'; say!(\"a \\\"b\\\" \\\n    c\", x = f('x', \"in\")); #[doc = \"no\"]\n";
    let read: Vec<_> = literals(source).into_iter().map(|own| (own.text, own.call)).collect();
    let call = |name: &str, at| Some((name.to_owned(), at));
    assert_eq!(read, [("a \"b\" c".to_owned(), call("say!", 0)), ("in".to_owned(), call("f", 1))]);
}
