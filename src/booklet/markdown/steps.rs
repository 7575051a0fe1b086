//! A chapter of steps: each `##` with all that follows it is one numbered step.

use super::{Walk, plain_text};
use crate::diagnostic::Diagnostic;
use comrak::nodes::Node;

impl<'a> Walk<'a, '_> {
    /// Writes what stands before the first step, then the steps. Their numbers run on through the
    /// booklet.
    pub(super) fn steps(&mut self, nodes: &[Node<'a>]) {
        let is_head: Vec<bool> = nodes
            .iter()
            .map(|node| self.head_of_section(node))
            .collect();
        let first = is_head.iter().position(|head| *head).unwrap_or(nodes.len());
        if first > 0 {
            self.start(nodes[0], "section(none, ");
            self.block_block(&nodes[..first]);
            self.book.out.code(")\n");
        }
        let mut at = first;
        while at < nodes.len() {
            let length = is_head[at + 1..].iter().position(|head| *head);
            let end = length.map_or(nodes.len(), |length| at + 1 + length);
            self.step(nodes[at], &nodes[at + 1..end]);
            at = end;
        }
    }

    fn step(&mut self, head: Node<'a>, body: &[Node<'a>]) {
        let place = self.place(head);
        self.book.steps.push(place.clone());
        self.start(head, "step(");
        self.book.out.number(self.book.steps.len());
        self.book.out.code(", ");
        self.has_head |= self.head(head);
        self.book.out.code(", ");
        let (drawings, words): (Vec<Node<'a>>, Vec<Node<'a>>) =
            body.iter().partition(|node| self.is_drawing(node));
        if words.iter().all(|node| plain_text(node).trim().is_empty()) {
            let message = format!("The step ‘{}’ says nothing.", plain_text(head));
            self.say(
                Diagnostic::warning("step-empty", Some(&place), message)
                    .remedy("Write below its heading what is done, or delete the heading."),
            );
        }
        self.block_block(&words);
        self.book.out.code(", (");
        self.drawings(&drawings);
        self.book.out.code("))\n");
    }
}
