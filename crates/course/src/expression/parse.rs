//! From text to tree, with bounds on length, tokens and nesting.

use super::{ExpressionError, Function, Node, Operator};

/// Longest formula in bytes; the longest of the exercises has about 400.
const MAX_BYTES: usize = 2000;
/// Most tokens; a tree cannot be deeper than that.
const MAX_TOKENS: usize = 300;
/// Deepest nesting of parentheses, signs and powers.
const MAX_DEPTH: usize = 40;

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Number(f64),
    Name(String),
    Symbol(&'static str),
}

struct Parser {
    /// Tokens with the position of their first character, counted from 1.
    tokens: Vec<(Token, usize)>,
    next: usize,
    depth: usize,
}

pub(super) fn parse(text: &str) -> Result<Node, ExpressionError> {
    if MAX_BYTES < text.len() {
        return Err(ExpressionError::TooLarge);
    }
    let mut parser = Parser { tokens: tokens(text)?, next: 0, depth: 0 };
    let root = parser.comparison()?;
    if parser.next < parser.tokens.len() {
        return Err(parser.unexpected());
    }
    Ok(root)
}

fn tokens(text: &str) -> Result<Vec<(Token, usize)>, ExpressionError> {
    /// Longer symbols first, so that `<=` is not read as `<`.
    const SYMBOLS: &[&str] =
        &["<=", ">=", "==", "!=", "<", ">", "+", "-", "*", "/", "^", "(", ")", ","];
    let mut tokens = Vec::new();
    let mut rest = text;
    loop {
        rest = rest.trim_start();
        let at = text.len() - rest.len() + 1;
        let Some(first) = rest.chars().next() else { break };
        if MAX_TOKENS <= tokens.len() {
            return Err(ExpressionError::TooLarge);
        }
        let unexpected = || ExpressionError::Unexpected { found: first.to_string(), at };
        let (token, length) = if first.is_ascii_digit() {
            let length = number_length(rest);
            let number: f64 = part(rest, length).parse().map_err(|_| unexpected())?;
            if !number.is_finite() {
                return Err(ExpressionError::NoValue { operation: "a number" });
            }
            (Token::Number(number), length)
        } else if first.is_ascii_alphabetic() || first == '_' {
            let length = rest
                .find(|c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '.'))
                .unwrap_or(rest.len());
            let name = part(rest, length);
            if name.split('.').any(|piece| piece.is_empty()) {
                return Err(unexpected());
            }
            (Token::Name(name.to_owned()), length)
        } else {
            let symbol = SYMBOLS
                .iter()
                .find(|symbol| rest.starts_with(**symbol))
                .ok_or_else(unexpected)?;
            (Token::Symbol(symbol), symbol.len())
        };
        tokens.push((token, at));
        rest = rest.get(length..).unwrap_or_default();
    }
    Ok(tokens)
}

fn part(text: &str, length: usize) -> &str {
    text.get(..length).unwrap_or_default()
}

/// Length of `12`, `12.5`, `1e5`, `1.5e-5` at the start of the text.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        bytes.iter().skip(from).take_while(|byte| byte.is_ascii_digit()).count()
    };
    let mut length = digits(0);
    if bytes.get(length) == Some(&b'.') && 0 < digits(length + 1) {
        length += 1 + digits(length + 1);
    }
    if matches!(bytes.get(length), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(length + 1), Some(b'+' | b'-')));
        let exponent = digits(length + 1 + sign);
        if 0 < exponent {
            length += 1 + sign + exponent;
        }
    }
    length
}

impl Parser {
    fn comparison(&mut self) -> Result<Node, ExpressionError> {
        let left = self.sum()?;
        let operator = self.operator(&[
            ("<", Operator::Less),
            ("<=", Operator::LessOrEqual),
            (">", Operator::Greater),
            (">=", Operator::GreaterOrEqual),
            ("==", Operator::Equal),
            ("!=", Operator::NotEqual),
        ]);
        match operator {
            Some(operator) => Ok(binary(operator, left, self.sum()?)),
            None => Ok(left),
        }
    }

    fn sum(&mut self) -> Result<Node, ExpressionError> {
        let mut left = self.product()?;
        while let Some(operator) =
            self.operator(&[("+", Operator::Add), ("-", Operator::Subtract)])
        {
            left = binary(operator, left, self.product()?);
        }
        Ok(left)
    }

    fn product(&mut self) -> Result<Node, ExpressionError> {
        let mut left = self.signed()?;
        while let Some(operator) =
            self.operator(&[("*", Operator::Multiply), ("/", Operator::Divide)])
        {
            left = binary(operator, left, self.signed()?);
        }
        Ok(left)
    }

    fn signed(&mut self) -> Result<Node, ExpressionError> {
        self.deeper(|parser| {
            if parser.take("-") {
                Ok(Node::Negate(Box::new(parser.signed()?)))
            } else {
                parser.power()
            }
        })
    }

    fn power(&mut self) -> Result<Node, ExpressionError> {
        let base = self.operand()?;
        if self.take("^") {
            Ok(binary(Operator::Power, base, self.signed()?))
        } else {
            Ok(base)
        }
    }

    fn operand(&mut self) -> Result<Node, ExpressionError> {
        match self.tokens.get(self.next).map(|(token, _)| token.clone()) {
            Some(Token::Number(value)) => {
                self.next += 1;
                Ok(Node::Number(value))
            }
            Some(Token::Name(name)) => {
                self.next += 1;
                if self.take("(") { self.call(&name) } else { Ok(Node::Name(name)) }
            }
            Some(Token::Symbol("(")) => {
                self.next += 1;
                let inner = self.comparison()?;
                self.expect(")")?;
                Ok(inner)
            }
            _ => Err(self.unexpected()),
        }
    }

    fn call(&mut self, name: &str) -> Result<Node, ExpressionError> {
        let function = Function::ALL
            .iter()
            .copied()
            .find(|function| function.name() == name)
            .ok_or_else(|| ExpressionError::UnknownFunction { name: name.to_owned() })?;
        let mut arguments = vec![self.comparison()?];
        while self.take(",") {
            arguments.push(self.comparison()?);
        }
        self.expect(")")?;
        if arguments.len() == function.arguments() {
            Ok(Node::Call(function, arguments))
        } else {
            Err(function.wrong_count(arguments.len()))
        }
    }

    fn deeper(
        &mut self,
        read: impl FnOnce(&mut Self) -> Result<Node, ExpressionError>,
    ) -> Result<Node, ExpressionError> {
        if MAX_DEPTH <= self.depth {
            return Err(ExpressionError::TooLarge);
        }
        self.depth += 1;
        let node = read(self);
        self.depth -= 1;
        node
    }

    fn operator(&mut self, candidates: &[(&str, Operator)]) -> Option<Operator> {
        candidates
            .iter()
            .find(|(symbol, _)| self.take(symbol))
            .map(|(_, operator)| *operator)
    }

    fn take(&mut self, symbol: &str) -> bool {
        let found = matches!(
            self.tokens.get(self.next),
            Some((Token::Symbol(found), _)) if *found == symbol
        );
        self.next += usize::from(found);
        found
    }

    fn expect(&mut self, symbol: &str) -> Result<(), ExpressionError> {
        if self.take(symbol) { Ok(()) } else { Err(self.unexpected()) }
    }

    fn unexpected(&self) -> ExpressionError {
        match self.tokens.get(self.next) {
            Some((token, at)) => {
                let found = match token {
                    Token::Number(value) => value.to_string(),
                    Token::Name(name) => name.clone(),
                    Token::Symbol(symbol) => (*symbol).to_owned(),
                };
                ExpressionError::Unexpected { found, at: *at }
            }
            None => ExpressionError::Unexpected {
                found: "end".to_owned(),
                at: self.tokens.last().map_or(1, |(_, at)| at + 1),
            },
        }
    }
}

fn binary(operator: Operator, left: Node, right: Node) -> Node {
    Node::Binary(operator, Box::new(left), Box::new(right))
}
