//! An order of tightening as a list of fasteners: turned about for loosening,
//! and checked when a person puts in the maker's own.

/// Loosening goes the other way round (common practice, no source).
pub fn loosening(order: &[usize]) -> Vec<usize> {
    order.iter().rev().copied().collect()
}

/// Why a list is not an order of `n` fasteners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderError {
    /// There is no such fastener.
    Unknown {
        fastener: usize,
    },
    Twice {
        fastener: usize,
    },
    Missing {
        fastener: usize,
    },
}

/// Whether `order` holds each of the fasteners 0 to `n` - 1 once.
///
/// # Errors
/// [`OrderError`] naming the first that does not.
pub fn check_order(order: &[usize], n: usize) -> Result<(), OrderError> {
    let mut seen = vec![false; n];
    for &fastener in order {
        match seen.get_mut(fastener) {
            None => return Err(OrderError::Unknown { fastener }),
            Some(true) => return Err(OrderError::Twice { fastener }),
            Some(once) => *once = true,
        }
    }
    match seen.iter().position(|it| !it) {
        Some(fastener) => Err(OrderError::Missing { fastener }),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_order_holds_each_once() {
        assert_eq!(check_order(&[2, 0, 1], 3), Ok(()));
        assert_eq!(
            check_order(&[2, 0, 2], 3),
            Err(OrderError::Twice { fastener: 2 })
        );
        assert_eq!(
            check_order(&[2, 0], 3),
            Err(OrderError::Missing { fastener: 1 })
        );
        assert_eq!(
            check_order(&[3], 3),
            Err(OrderError::Unknown { fastener: 3 })
        );
        assert_eq!(loosening(&[2, 0, 1]), [1, 0, 2]);
    }
}
