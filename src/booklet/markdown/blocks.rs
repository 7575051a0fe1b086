//! Paragraphs, lists, tables, cautions, drawings: one call a line.

use super::drawings::{IN_TEXT, pictures_only};
use super::{LONGEST_RUN, Walk, plain_text};
use crate::diagnostic::Diagnostic;
use comrak::nodes::{
    AlertType, ListType, Node, NodeAlert, NodeList, NodeTable, NodeValue, TableAlignment,
};

/// Columns of a table that find room beside each other.
const MOST_COLUMNS: usize = 8;

impl<'a> Walk<'a, '_> {
    /// A chapter of text: what stands under each side head becomes a section.
    pub(super) fn sections(&mut self, nodes: &[Node<'a>]) {
        let mut at = 0;
        while at < nodes.len() {
            let head = self.head_of_section(nodes[at]);
            let first = if head { at + 1 } else { at };
            let mut end = first;
            while end < nodes.len() && !self.head_of_section(nodes[end]) {
                end += 1;
            }
            if !head && is_glossary(&nodes[first..end]) {
                self.glossary(&nodes[first..end]);
                at = end;
                continue;
            }
            self.start(nodes[at], "section(");
            if head {
                self.has_head |= self.head(nodes[at]);
            } else {
                self.book.out.code("none");
            }
            self.book.out.code(", ");
            self.block_block(&nodes[first..end]);
            self.book.out.code(")\n");
            at = end;
        }
    }

    /// Writes each word with its meaning.
    fn glossary(&mut self, nodes: &[Node<'a>]) {
        self.start(nodes[0], "glossary((\n");
        for node in nodes {
            let Some(word) = node.first_child() else {
                continue;
            };
            self.start(node, "(");
            self.inline_block(word);
            self.book.out.code(", ");
            self.open();
            for meaning in node.children().skip(1) {
                self.inline(meaning);
            }
            self.close();
            self.book.out.code("),\n");
        }
        self.book.out.code("))\n");
    }

    pub(super) fn head_of_section(&self, node: Node<'a>) -> bool {
        matches!(&node.data().value, NodeValue::Heading(head) if head.level <= 2)
    }

    /// Writes the words of a heading, or `none` if it has none.
    ///
    /// A chapter has its title from the head of its file; and a head has words.
    pub(super) fn head(&mut self, node: Node<'a>) -> bool {
        let place = self.place(node);
        let level = match &node.data().value {
            NodeValue::Heading(head) => head.level,
            _ => 0,
        };
        if level == 1 {
            let message = format!("‘# {}’ would be a second title.", plain_text(node));
            self.say(
                Diagnostic::error("heading-level", Some(&place), message)
                    .remedy("The title is ‘title:’ in the head of the file; begin with ‘##’."),
            );
        }
        if plain_text(node).trim().is_empty() {
            let message = "A heading has no words.";
            self.say(
                Diagnostic::error("heading-empty", Some(&place), message)
                    .remedy("Write words after the signs ‘##’, or delete the line."),
            );
            self.book.out.code("none");
            return false;
        }
        self.in_head = true;
        self.inline_block(node);
        self.in_head = false;
        true
    }

    /// Writes `{ … }` with the blocks.
    pub(super) fn block_block(&mut self, nodes: &[Node<'a>]) {
        self.open();
        for node in nodes {
            self.block(node);
        }
        self.close();
    }

    pub(super) fn start(&mut self, node: Node<'a>, code: &'static str) {
        self.flush();
        let place = self.place(node);
        self.book.out.from(&place);
        self.book.out.code(code);
    }

    fn block(&mut self, node: Node<'a>) {
        let place = self.place(node);
        if !self.descend(&place) {
            self.book.out.code("paragraph({ ");
            self.gather(&plain_text(node), &place);
            self.close();
            return self.book.out.code(")\n");
        }
        let value = node.data().value.clone();
        match value {
            NodeValue::Paragraph => self.paragraph(node),
            NodeValue::Heading(head) => self.small_head(node, head.level),
            NodeValue::BlockQuote => self.around(node, "quoted("),
            NodeValue::List(list) => self.list(node, &list),
            NodeValue::CodeBlock(code) => self.code_block(node, &code.info, &code.literal),
            NodeValue::HtmlBlock(html) => {
                self.html(&html.literal, &place);
                self.start(node, "paragraph(");
                self.open();
                self.gather(html.literal.trim(), &place);
                self.close();
                self.book.out.code(")\n");
            }
            NodeValue::ThematicBreak => self.start(node, "parting()\n"),
            NodeValue::Table(table) => self.table(node, &table),
            NodeValue::Alert(alert) => self.alert(node, &alert),
            _ => {
                for child in node.children() {
                    self.block(child);
                }
            }
        }
        self.depth -= 1;
    }

    fn around(&mut self, node: Node<'a>, function: &'static str) {
        self.start(node, function);
        let children: Vec<Node<'a>> = node.children().collect();
        self.block_block(&children);
        self.book.out.code(")\n");
    }

    fn paragraph(&mut self, node: Node<'a>) {
        if pictures_only(node) {
            for child in node.children() {
                let value = child.data().value.clone();
                if let NodeValue::Image(link) = value {
                    self.book.out.code("drawing(");
                    self.picture(child, &link, IN_TEXT);
                    self.book.out.code(")\n");
                }
            }
            return;
        }
        self.start(node, "paragraph(");
        self.inline_block(node);
        self.book.out.code(")\n");
    }

    fn small_head(&mut self, node: Node<'a>, level: u8) {
        let below = usize::from(level)
            .max(3)
            .min(if self.has_head { 3 } else { 2 });
        self.start(node, "small-head(");
        self.book.out.number(below);
        self.book.out.code(", ");
        self.head(node);
        self.book.out.code(")\n");
    }

    fn list(&mut self, node: Node<'a>, list: &NodeList) {
        if list.list_type == ListType::Ordered {
            self.start(node, "numbers(start: ");
            self.book.out.number(list.start);
            self.book.out.code(", ");
        } else {
            self.start(node, "bullets(");
        }
        self.book.out.code(if list.tight {
            "tight: true, ("
        } else {
            "tight: false, ("
        });
        for item in node.children() {
            let children: Vec<Node<'a>> = item.children().collect();
            self.open();
            for child in children {
                if list.tight && is_words(child) {
                    self.inlines(child);
                } else {
                    self.flush();
                    self.block(child);
                }
            }
            self.close();
            self.book.out.code(", ");
        }
        self.book.out.code("))\n");
    }

    fn table(&mut self, node: Node<'a>, table: &NodeTable) {
        let columns = table.alignments.len();
        if columns > MOST_COLUMNS {
            let place = self.place(node);
            let message =
                format!("A table has {columns} columns; {MOST_COLUMNS} fit the width of the text.");
            self.say(
                Diagnostic::error("table-too-wide", Some(&place), message)
                    .remedy("Turn its rows into columns, or make two tables of it."),
            );
        }
        self.longest_run = match columns {
            0..=3 => LONGEST_RUN,
            4..=5 => 10,
            _ => 8,
        };
        self.start(node, "data-table(align: (");
        for alignment in &table.alignments {
            self.book.out.code(match alignment {
                TableAlignment::Right => "right, ",
                TableAlignment::Center => "center, ",
                TableAlignment::None | TableAlignment::Left => "left, ",
            });
        }
        self.book.out.code("), head: (");
        let rows: Vec<Node<'a>> = node.children().collect();
        for (index, row) in rows.iter().enumerate() {
            if index == 1 {
                self.book.out.code("), ");
            }
            let cells: Vec<Node<'a>> = row.children().collect();
            for cell in (0..columns).map(|column| cells.get(column)) {
                match cell {
                    Some(cell) => self.inline_block(cell),
                    None => self.book.out.code("[]"),
                }
                self.book.out.code(", ");
            }
        }
        self.book
            .out
            .code(if rows.len() < 2 { "))\n" } else { ")\n" });
        self.longest_run = LONGEST_RUN;
    }

    fn alert(&mut self, node: Node<'a>, alert: &NodeAlert) {
        let grave = matches!(alert.alert_type, AlertType::Caution | AlertType::Warning);
        self.start(node, if grave { "caution(" } else { "aside(" });
        let place = self.place(node);
        let title = alert.title.clone();
        let title = title.unwrap_or_else(|| {
            let usual = alert.alert_type.default_title();
            let words = &self.design.words;
            words.named("alerts", &usual.to_lowercase()).to_string()
        });
        self.caption(&title, &place);
        self.book.out.code(", ");
        let children: Vec<Node<'a>> = node.children().collect();
        let rest = match children.split_first() {
            Some((first, rest)) if is_words(first) => {
                self.inline_block(first);
                rest
            }
            _ => {
                self.book.out.code("[]");
                children.as_slice()
            }
        };
        self.book.out.code(", ");
        self.block_block(rest);
        self.book.out.code(")\n");
    }

    fn code_block(&mut self, node: Node<'a>, info: &str, text: &str) {
        if self.shown_block(node, (info, text), IN_TEXT, ("drawing(", ")\n")) {
            return;
        }
        let place = self.place(node);
        let lines: Vec<String> = text
            .lines()
            .map(|line| self.printable(line, &place))
            .collect();
        self.start(node, "code-block(");
        self.book.out.literal(&lines.join("\n"));
        self.book.out.code(")\n");
    }
}

/// Whether every paragraph begins with a word in bold, and there are at least four.
fn is_glossary(nodes: &[Node<'_>]) -> bool {
    let begins_bold = |node: &Node<'_>| {
        let first = node.first_child();
        matches!(node.data().value, NodeValue::Paragraph)
            && first.is_some_and(|word| matches!(word.data().value, NodeValue::Strong))
    };
    nodes.len() >= 4 && nodes.iter().all(begins_bold)
}

fn is_words(node: Node<'_>) -> bool {
    matches!(node.data().value, NodeValue::Paragraph) && !pictures_only(node)
}
