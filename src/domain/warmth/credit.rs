//! What measured readings of a beef roast earn: reductions of salmonella, by the table of FSIS Appendix A.
//!
//! A straight line on its logarithm that credits no row of the table with more than the table does.
//! Beef, corned beef; never poultry: the column under-cooks it (FSIS). Never from a forecast.

/// One reading at the coldest place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    pub minutes: f64,
    pub fahrenheit: f64,
}

/// The column that is asked for.
pub const WANTED_LOGS: f64 = 6.5;
/// Minutes at 140 F for one reduction, and the degrees F for ten times as fast.
const MINUTES_AT_140: f64 = 1.95;
const TENFOLD_F: f64 = 10.0;
/// Below nothing counts, above no more than here.
const LEAST_F: f64 = 130.0;
const MOST_F: f64 = 158.0;
/// A longer gap between two readings earns nothing: what happened in it was not measured.
const LONGEST_GAP_MINUTES: f64 = 10.0;

/// Reductions earned; each stretch counts with the colder of its two readings.
#[must_use]
pub fn beef_logs(readings: &[Measured]) -> f64 {
    readings
        .windows(2)
        .map(|two| {
            let minutes = two[1].minutes - two[0].minutes;
            let colder = two[0].fahrenheit.min(two[1].fahrenheit).min(MOST_F);
            if colder < LEAST_F || minutes <= 0.0 || minutes > LONGEST_GAP_MINUTES {
                return 0.0;
            }
            minutes * 10_f64.powf((colder - 140.0) / TENFOLD_F) / MINUTES_AT_140
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FSIS Appendix A, 6.5-log column: F and seconds. The rows of the Food Code table are the same and
    /// were read there; those between are the published ones from a copy.
    const TABLE: [(f64, f64); 28] = [
        (130.0, 6720.0),
        (131.0, 5340.0),
        (132.0, 4260.0),
        (133.0, 3360.0),
        (134.0, 2700.0),
        (135.0, 2160.0),
        (136.0, 1680.0),
        (137.0, 1380.0),
        (138.0, 1080.0),
        (139.0, 900.0),
        (140.0, 720.0),
        (141.0, 540.0),
        (142.0, 480.0),
        (143.0, 360.0),
        (144.0, 300.0),
        (145.0, 240.0),
        (146.0, 169.0),
        (147.0, 134.0),
        (148.0, 107.0),
        (149.0, 85.0),
        (150.0, 67.0),
        (151.0, 54.0),
        (152.0, 43.0),
        (153.0, 34.0),
        (154.0, 27.0),
        (155.0, 22.0),
        (156.0, 17.0),
        (157.0, 14.0),
    ];

    fn held(fahrenheit: f64, minutes: f64) -> Vec<Measured> {
        let stretches = (minutes / 5.0).ceil().max(1.0);
        (0..=stretches as u32)
            .map(|i| Measured { minutes: minutes * f64::from(i) / stretches, fahrenheit })
            .collect()
    }

    #[test]
    fn no_row_of_the_table_is_credited_with_more_than_it_says() {
        for (fahrenheit, seconds) in TABLE {
            let logs = beef_logs(&held(fahrenheit, seconds / 60.0));
            assert!((5.6..=6.505).contains(&logs), "{fahrenheit} F: {logs}");
        }
    }

    #[test]
    fn a_gap_a_cold_reading_and_a_forecast_earn_nothing() {
        let at = |minutes, fahrenheit| Measured { minutes, fahrenheit };
        assert!(beef_logs(&[at(0.0, 145.0), at(11.0, 145.0)]) < 1e-9);
        assert!(beef_logs(&[at(0.0, 129.9), at(9.0, 129.9)]) < 1e-9);
        assert!(beef_logs(&[at(0.0, 120.0), at(5.0, 145.0)]) < 1e-9, "the colder reading counts");
        assert!(beef_logs(&[at(0.0, 145.0)]) < 1e-9);
        let (hot, most) = (beef_logs(&held(200.0, 0.1)), beef_logs(&held(158.0, 0.1)));
        assert!((hot - most).abs() < 1e-12, "nothing counts above 158 F");
    }
}
