//! Where a function of one number crosses zero, and where it is least.

/// A root of `function` between `low` and `high`, at which its signs must differ; to within
/// `tolerance` of the argument. `None` if they do not differ or are no numbers. The Illinois rule
/// (M. Dowell, P. Jarratt, "A modified regula falsi method for computing the root of an equation",
/// BIT 11, 1971): false position whose lasting end is halved.
pub fn root(function: impl Fn(f64) -> f64, low: f64, high: f64, tolerance: f64) -> Option<f64> {
    let (mut a, mut b) = (low, high);
    let (mut at_a, mut at_b) = (function(a), function(b));
    if at_a == 0.0 {
        return Some(a);
    }
    if at_b == 0.0 {
        return Some(b);
    }
    // Also false for a value that is no number.
    let differ = at_a * at_b < 0.0;
    if !differ {
        return None;
    }
    for _ in 0..100 {
        let middle = b - at_b * (b - a) / (at_b - at_a);
        let middle = if middle.is_finite() {
            middle
        } else {
            0.5 * (a + b)
        };
        let value = function(middle);
        if value == 0.0 || (middle - b).abs() <= tolerance {
            return Some(middle);
        }
        if value * at_b < 0.0 {
            (a, at_a) = (b, at_b);
        } else {
            at_a *= 0.5;
        }
        (b, at_b) = (middle, value);
        if (b - a).abs() <= tolerance {
            break;
        }
    }
    Some(b)
}

/// Where `function`, which falls and then rises between `low` and `high`, is least, after `rounds`
/// of golden section (Kiefer 1953), and its value there.
pub fn least(function: impl Fn(f64) -> f64, low: f64, high: f64, rounds: usize) -> (f64, f64) {
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut a, mut b) = (low, high);
    let (mut c, mut d) = (b - golden * (b - a), a + golden * (b - a));
    let (mut at_c, mut at_d) = (function(c), function(d));
    for _ in 0..rounds {
        if at_c < at_d {
            (b, d, at_d) = (d, c, at_c);
            c = b - golden * (b - a);
            at_c = function(c);
        } else {
            (a, c, at_c) = (c, d, at_d);
            d = a + golden * (b - a);
            at_d = function(d);
        }
    }
    if at_c < at_d { (c, at_c) } else { (d, at_d) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_root_is_found_to_the_tolerance() {
        let found = root(|x| x * x * x - 2.0, 0.0, 3.0, 1e-12).unwrap();
        assert!((found - 2.0_f64.cbrt()).abs() < 1e-11);
        assert_eq!(root(|x| x * x + 1.0, -1.0, 1.0, 1e-9), None);
        assert_eq!(root(|_| f64::NAN, -1.0, 1.0, 1e-9), None);
    }

    #[test]
    fn the_least_value_is_found() {
        let (x, value) = least(|x| (x - 0.3) * (x - 0.3) + 2.0, -1.0, 2.0, 40);
        assert!((x - 0.3).abs() < 1e-6 && (value - 2.0).abs() < 1e-12);
    }
}
