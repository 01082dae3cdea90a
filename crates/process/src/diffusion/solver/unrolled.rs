//! Loops over dopants, written out for one and two of them.

/// `for $k in 0..$count $body`, written out where the count of dopants is one or two: the page
/// is compiled for size, which leaves such loops, the innermost of all, as they are. Measured:
/// two dopants together take half the time.
macro_rules! each {
    ($k:ident in $count:ident $body:block) => {
        if $count <= 2 {
            {
                let $k = 0;
                $body
            }
            if $count == 2 {
                let $k = 1;
                $body
            }
        } else {
            for $k in 0..$count {
                $body
            }
        }
    };
}

pub(super) use each;
