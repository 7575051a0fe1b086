//! The words of a formula put together: sums of products of values, names, calls and parentheses.

use super::super::quantity::{Fault, Quantity};
use super::lexer::{Kind, Token, tokens};

/// Parentheses, calls and signs may be nested this deep. Nobody writes ten; the limit keeps a
/// hostile file from exhausting the stack.
const DEPTH: usize = 100;

/// A formula longer than this many characters is refused; a page of text is no formula.
const LONGEST: usize = 2000;

/// What a formula says. Sums and products are flat lists, so that only parentheses nest.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Expression {
    /// A value.
    Value(Quantity),
    /// A name, with the characters before it.
    Name(String, usize),
    /// The negative of something.
    Negative(Box<Expression>),
    /// Terms added (`Plus`) or taken away (`Minus`), from left to right.
    Sum(Box<Expression>, Vec<Operand>),
    /// Factors multiplied (`Times`) or divided by (`Over`), from left to right.
    Product(Box<Expression>, Vec<Operand>),
    /// A function of values, with the characters before it.
    Call(Function, Vec<Expression>, usize),
}

/// One further term or factor.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Operand {
    /// Whether it is subtracted or divided by.
    pub inverse: bool,
    /// Characters before the sign.
    pub at: usize,
    /// The operand.
    pub value: Expression,
}

/// The functions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Function {
    /// The smallest.
    Min,
    /// The largest.
    Max,
    /// To the nearest multiple; halves go away from zero.
    Round,
    /// To the next multiple upward.
    RoundUp,
    /// To the next multiple downward.
    RoundDown,
    /// Square root of a number, or of an area.
    Sqrt,
    /// Without its sign.
    Abs,
}

impl Function {
    /// All, with their names.
    const ALL: [(Self, &'static str); 7] = [
        (Self::Min, "min"),
        (Self::Max, "max"),
        (Self::Round, "round"),
        (Self::RoundUp, "round up"),
        (Self::RoundDown, "round down"),
        (Self::Sqrt, "sqrt"),
        (Self::Abs, "abs"),
    ];

    /// As written.
    pub fn name(self) -> &'static str {
        let found = Self::ALL.iter().find(|(function, _)| *function == self);
        found.map_or("", |(_, name)| name)
    }

    fn takes(self) -> (usize, usize, &'static str) {
        match self {
            Self::Min | Self::Max => (1, usize::MAX, "one value or more"),
            Self::Round | Self::RoundUp | Self::RoundDown => {
                (2, 2, "two values: what is rounded, and the step")
            }
            Self::Sqrt | Self::Abs => (1, 1, "one value"),
        }
    }
}

/// The expression that `text` writes.
///
/// # Errors
/// The first thing that cannot be understood, with its column.
pub(super) fn parse(text: &str) -> Result<Expression, Fault> {
    if text.chars().count() > LONGEST {
        let message = format!("this formula is longer than {LONGEST} characters");
        return Err(
            Fault::new("too-large", 0, message).remedy("give parts of it a name under `measures:`")
        );
    }
    let mut parser = Parser {
        tokens: tokens(text)?,
        next: 0,
    };
    let expression = parser.sum(0)?;
    let token = parser.peek();
    match token.kind {
        Kind::End => Ok(expression),
        _ => Err(unexpected(&token)),
    }
}

struct Parser {
    tokens: Vec<Token>,
    next: usize,
}

impl Parser {
    fn peek(&self) -> Token {
        let end = Token {
            kind: Kind::End,
            at: 0,
        };
        self.tokens.get(self.next).cloned().unwrap_or(end)
    }

    fn take(&mut self) -> Token {
        let token = self.peek();
        if token.kind != Kind::End {
            self.next += 1;
        }
        token
    }

    fn sum(&mut self, depth: usize) -> Result<Expression, Fault> {
        let first = self.product(depth)?;
        let mut rest = Vec::new();
        while let token @ (Kind::Plus | Kind::Minus) = self.peek().kind {
            let at = self.take().at;
            rest.push(Operand {
                inverse: token == Kind::Minus,
                at,
                value: self.product(depth)?,
            });
        }
        if rest.is_empty() {
            return Ok(first);
        }
        Ok(Expression::Sum(Box::new(first), rest))
    }

    fn product(&mut self, depth: usize) -> Result<Expression, Fault> {
        let first = self.factor(depth)?;
        let mut rest = Vec::new();
        while let token @ (Kind::Times | Kind::Over) = self.peek().kind {
            let at = self.take().at;
            rest.push(Operand {
                inverse: token == Kind::Over,
                at,
                value: self.factor(depth)?,
            });
        }
        if rest.is_empty() {
            return Ok(first);
        }
        Ok(Expression::Product(Box::new(first), rest))
    }

    fn factor(&mut self, depth: usize) -> Result<Expression, Fault> {
        let token = self.take();
        if depth >= DEPTH {
            let message = format!("this formula is nested more than {DEPTH} deep");
            return Err(Fault::new("too-large", token.at, message)
                .remedy("give parts of it a name under `measures:`"));
        }
        match token.kind {
            Kind::Minus => Ok(Expression::Negative(Box::new(self.factor(depth + 1)?))),
            Kind::Value(quantity) => Ok(Expression::Value(quantity)),
            Kind::Open => {
                let inner = self.sum(depth + 1)?;
                self.close(token.at)?;
                Ok(inner)
            }
            Kind::Name(name) if self.peek().kind == Kind::Open => self.call(&name, token.at, depth),
            Kind::Name(name) => Ok(Expression::Name(name, token.at)),
            _ => Err(unexpected(&token)),
        }
    }

    fn call(&mut self, name: &str, at: usize, depth: usize) -> Result<Expression, Fault> {
        let open = self.take();
        let known = Function::ALL.iter().find(|(_, known)| *known == name);
        let Some((function, _)) = known else {
            let message = format!("‘{name}’ is no function");
            let names: Vec<&str> = Function::ALL.iter().map(|(_, name)| *name).collect();
            return Err(Fault::new("formula", at, message)
                .remedy(format!("the functions are {}", names.join(", "))));
        };
        let mut values = vec![self.sum(depth + 1)?];
        while self.peek().kind == Kind::Comma {
            self.take();
            values.push(self.sum(depth + 1)?);
        }
        self.close(open.at)?;
        let (least, most, words) = function.takes();
        if values.len() < least || values.len() > most {
            let message = format!("‘{name}’ takes {words}");
            return Err(Fault::new("formula", at, message)
                .remedy("values are separated by commas: min(3 mm, seam)"));
        }
        Ok(Expression::Call(*function, values, at))
    }

    fn close(&mut self, opened: usize) -> Result<(), Fault> {
        let token = self.take();
        match token.kind {
            Kind::Close => Ok(()),
            Kind::End => {
                let message = "this parenthesis is never closed";
                Err(Fault::new("formula", opened, message).remedy("add the missing ‘)’"))
            }
            _ => Err(unexpected(&token)),
        }
    }
}

fn unexpected(token: &Token) -> Fault {
    let (message, remedy) = match &token.kind {
        Kind::End => ("the formula ends too early", "write the missing value"),
        Kind::Value(_) | Kind::Name(_) | Kind::Open => (
            "a sign is missing between two values",
            "write + - * or / between them",
        ),
        Kind::Close => (
            "this parenthesis was never opened",
            "take it away, or add the ‘(’ that is missing",
        ),
        Kind::Comma => (
            "a comma has no meaning here",
            "decimals are written with a point: 4.5 mm",
        ),
        _ => (
            "a value is missing before this sign",
            "write the missing value",
        ),
    };
    Fault::new("formula", token.at, message).remedy(remedy)
}
