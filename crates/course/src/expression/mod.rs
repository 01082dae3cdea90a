//! The arithmetic of the exercises: answers, wrong models and conditions as short formulas.
//!
//! Numbers, names, `+ - * / ^`, comparisons, parentheses and the functions of [`Function`].
//! `^` is power, binds tighter than the minus sign before it and groups from the right; a
//! comparison gives 1 or 0; `if(c, a, b)` computes only the branch it takes.
//!
//! This is our own and not a library's evaluator because the numbers a student got last year
//! must come out again: every function goes through `barewafer_process::num`, so that page and
//! native command agree to the last bit, and no update of a dependency can change a draw.
//! Everything is bounded: length, number of tokens and depth. Nothing panics.

mod function;
mod parse;

pub use function::Function;

use barewafer_process::num::pow;

/// A formula that has been read and can be evaluated many times.
#[derive(Clone, Debug, PartialEq)]
pub struct Expression {
    text: String,
    root: Node,
}

/// Why a formula could not be read or has no value.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ExpressionError {
    /// Longer or deeper than any formula of an exercise.
    #[error("the formula is too long or too deeply nested")]
    TooLarge,
    /// Something that does not belong where it stands.
    #[error("unexpected {found} at character {at}")]
    Unexpected {
        /// What was found.
        found: String,
        /// Position, counted from 1.
        at: usize,
    },
    /// A function that does not exist.
    #[error("{name} is not a function here")]
    UnknownFunction {
        /// The name given.
        name: String,
    },
    /// A function with the wrong number of arguments.
    #[error("{name} takes {wanted} arguments, not {given}")]
    Arguments {
        /// The function.
        name: &'static str,
        /// Arguments it takes.
        wanted: usize,
        /// Arguments given.
        given: usize,
    },
    /// A name without a value.
    #[error("{name} has no value here")]
    UnknownName {
        /// The name.
        name: String,
    },
    /// No finite result: a division by zero, a logarithm of nothing, an overflow.
    #[error("{operation} has no finite value here")]
    NoValue {
        /// The operation that failed.
        operation: &'static str,
    },
}

/// A node of the tree; [`parse`] bounds its depth, so that recursion over it is safe.
#[derive(Clone, Debug, PartialEq)]
enum Node {
    Number(f64),
    Name(String),
    Negate(Box<Node>),
    Binary(Operator, Box<Node>, Box<Node>),
    Call(Function, Vec<Node>),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Operator {
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Less,
    LessOrEqual,
    Greater,
    GreaterOrEqual,
    Equal,
    NotEqual,
}

impl Expression {
    /// Reads a formula.
    ///
    /// # Errors
    /// [`ExpressionError`] if it is not one.
    pub fn parse(text: &str) -> Result<Self, ExpressionError> {
        Ok(Self { text: text.to_owned(), root: parse::parse(text)? })
    }

    /// The formula as written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The names it needs, in the order in which they stand, each as often as it stands.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        let mut names = Vec::new();
        collect_names(&self.root, &mut names);
        names
    }

    /// The value, with the numbers that `look_up` gives for the names.
    ///
    /// # Errors
    /// [`ExpressionError::UnknownName`], or [`ExpressionError::NoValue`] as soon as any part
    /// is not a finite number.
    pub fn evaluate(
        &self,
        look_up: &dyn Fn(&str) -> Option<f64>,
    ) -> Result<f64, ExpressionError> {
        value_of(&self.root, look_up)
    }
}

fn collect_names<'a>(node: &'a Node, names: &mut Vec<&'a str>) {
    match node {
        Node::Number(_) => {}
        Node::Name(name) => names.push(name),
        Node::Negate(inner) => collect_names(inner, names),
        Node::Binary(_, left, right) => {
            collect_names(left, names);
            collect_names(right, names);
        }
        Node::Call(_, arguments) => {
            for argument in arguments {
                collect_names(argument, names);
            }
        }
    }
}

fn value_of(
    node: &Node,
    look_up: &dyn Fn(&str) -> Option<f64>,
) -> Result<f64, ExpressionError> {
    match node {
        Node::Number(value) => Ok(*value),
        Node::Name(name) => look_up(name)
            .ok_or_else(|| ExpressionError::UnknownName { name: name.clone() })
            .and_then(|value| finite(value, "a name")),
        Node::Negate(inner) => Ok(-value_of(inner, look_up)?),
        Node::Binary(operator, left, right) => {
            operator.apply(value_of(left, look_up)?, value_of(right, look_up)?)
        }
        Node::Call(Function::If, arguments) => match arguments.as_slice() {
            [condition, yes, no] => {
                let holds = 0.0 < value_of(condition, look_up)?.abs();
                value_of(if holds { yes } else { no }, look_up)
            }
            other => Err(Function::If.wrong_count(other.len())),
        },
        Node::Call(function, arguments) => {
            let values: Result<Vec<f64>, ExpressionError> =
                arguments.iter().map(|argument| value_of(argument, look_up)).collect();
            function.apply(&values?)
        }
    }
}

impl Operator {
    fn apply(self, left: f64, right: f64) -> Result<f64, ExpressionError> {
        // Adding zero makes -0 equal to 0, as a reader expects.
        let order = (left + 0.0).total_cmp(&(right + 0.0));
        let truth = |holds: bool| Ok(if holds { 1.0 } else { 0.0 });
        match self {
            Self::Add => finite(left + right, "a sum"),
            Self::Subtract => finite(left - right, "a difference"),
            Self::Multiply => finite(left * right, "a product"),
            Self::Divide => finite(left / right, "a quotient"),
            Self::Power => finite(pow(left, right), "a power"),
            Self::Less => truth(order.is_lt()),
            Self::LessOrEqual => truth(order.is_le()),
            Self::Greater => truth(order.is_gt()),
            Self::GreaterOrEqual => truth(order.is_ge()),
            Self::Equal => truth(order.is_eq()),
            Self::NotEqual => truth(order.is_ne()),
        }
    }
}

fn finite(value: f64, operation: &'static str) -> Result<f64, ExpressionError> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(ExpressionError::NoValue { operation })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn value(text: &str) -> Result<f64, ExpressionError> {
        Expression::parse(text)?.evaluate(&|name| match name {
            "a" => Some(3.0),
            "r0.oxide_nm" => Some(280.0),
            "none" => Some(f64::NAN),
            _ => None,
        })
    }

    #[track_caller]
    fn check(text: &str, expected: f64) {
        let found = value(text).unwrap();
        assert!(
            (found - expected).abs() <= 1e-15 * expected.abs(),
            "{text} = {found}, not {expected}"
        );
    }

    #[test]
    fn operators_bind_as_in_print() {
        check("1+2*3", 7.0);
        check("(1+2)*3", 9.0);
        check("-2^2", -4.0);
        check("2^-1", 0.5);
        check("2^3^2", 512.0);
        check("8/4/2", 1.0);
        check("10-3-2", 5.0);
        check("2*-3", -6.0);
        check("1.63e8/1.63e+8*1e-2", 0.01);
        check("1+1 == 2", 1.0);
        check("1 != 1", 0.0);
        check("(2<3)+(3<=3)+(2>3)+(4>=5)", 2.0);
        check("0 == -0", 1.0);
        check("a^2 + r0.oxide_nm", 289.0);
    }

    #[test]
    fn functions_have_their_textbook_values() {
        check("sqrt(2)^2", 2.000_000_000_000_000_4);
        check("exp(0)+ln(1)+log10(100)", 3.0);
        check("abs(-3)+min(1,2)+max(1,2)", 6.0);
        check("if(a==3, 5, 1/0)", 5.0);
        check("if(a<3, 1/0, 6)", 6.0);
        check("round(2.3456,3)", 2.346);
        check("round(1250,-2)", 1200.0);
        check("round(1251,-2)", 1300.0);
        check("round(-2.5,0)", -2.0);
        // Abramowitz & Stegun 1964, table 7.1: erf(1) = 0.8427007929497148.
        check("erfc(1)", 1.0 - 0.842_700_792_949_714_8);
    }

    #[test]
    fn the_inverse_of_erfc_is_exact_over_its_range() {
        // Relative to the argument, which is what a concentration ratio needs.
        for x in [-3.0, -1.0, -1e-3, 1e-3, 0.1, 0.5, 1.0, 2.0, 4.0, 8.0, 20.0, 26.0] {
            let y = barewafer_process::num::erfc(x);
            let back = value(&format!("erfcinv({y:e})")).unwrap();
            // Beyond -1 the argument lies close to 2 and its own spacing limits the result.
            let slope =
                1.128 * barewafer_process::num::exp(-x * x) / y.max(f64::MIN_POSITIVE);
            let limit = 4e-16 / slope + 4e-16 * x.abs();
            assert!((back - x).abs() <= limit, "erfcinv(erfc({x})) = {back}");
        }
        check("erfcinv(1)", 0.0);
        for text in ["erfcinv(0)", "erfcinv(2)", "erfcinv(-1)", "erfcinv(1e-301)"] {
            assert!(value(text).is_err(), "{text}");
        }
    }

    #[test]
    fn what_has_no_value_is_an_error() {
        for text in ["1/0", "ln(0)", "ln(-1)", "sqrt(-1)", "exp(1000)", "(-8)^(1/3)"] {
            assert!(
                matches!(value(text), Err(ExpressionError::NoValue { .. })),
                "{text}: {:?}",
                value(text)
            );
        }
        assert!(matches!(value("none"), Err(ExpressionError::NoValue { .. })));
        assert!(matches!(value("b"), Err(ExpressionError::UnknownName { .. })));
        assert!(matches!(value("f(1)"), Err(ExpressionError::UnknownFunction { .. })));
        assert!(matches!(value("min(1)"), Err(ExpressionError::Arguments { .. })));
        assert!(matches!(value("round(1,0.5)"), Err(ExpressionError::NoValue { .. })));
        assert!(matches!(value("round(1,99)"), Err(ExpressionError::NoValue { .. })));
    }

    #[test]
    fn what_is_no_formula_is_an_error() {
        for text in [
            "", " ", "1+", "*1", "(1", "1)", "1 2", "2a", "1e", "1..2", ".5", "a.",
            "1<2<3", "min(1,)", "1=1", "!1", "é", "a$", "1e999", "sqrt", "sqrt(",
            "f.(1)",
        ] {
            assert!(value(text).is_err(), "{text:?} must be refused");
        }
    }

    #[test]
    fn size_and_depth_are_bounded() {
        let deep = format!("{}1{}", "(".repeat(5000), ")".repeat(5000));
        let signs = format!("{}1", "-".repeat(5000));
        let long = vec!["1"; 5000].join("+");
        let powers = vec!["1"; 120].join("^");
        for text in [deep, signs, long, powers] {
            assert_eq!(Expression::parse(&text), Err(ExpressionError::TooLarge));
        }
    }

    #[test]
    fn names_are_listed_as_they_stand() {
        let formula = Expression::parse("a*exp(-b/(c+a))").unwrap();
        assert_eq!(formula.names(), ["a", "b", "c", "a"]);
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "\\PC{0,60}") {
            let _ = value(&text);
        }

        #[test]
        fn no_text_of_its_own_alphabet_makes_it_panic(
            text in "(a|1|2e9|0\\.5|\\+|-|\\*|/|\\^|<|==|\\(|\\)|,|ln|if|round|erfcinv|min){0,40}"
        ) {
            if let Ok(found) = value(&text) {
                prop_assert!(found.is_finite());
            }
        }

        #[test]
        fn printed_numbers_are_read_back_exactly(number in 0.0..1e300_f64) {
            prop_assert_eq!(value(&format!("{number:e}")).unwrap().to_bits(), number.to_bits());
        }
    }
}
