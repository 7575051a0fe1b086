//! The moment a booklet was made, handed in as seconds since 1970 (SOURCE_DATE_EPOCH). No clock is
//! ever read here: the same input gives the same bytes.

use crate::language::phrase::Day;
use typst::foundations::Datetime;

/// A moment in UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Year of the common era.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
    /// Seconds since midnight.
    pub second_of_day: u32,
}

const DAY: i64 = 86_400;

impl Moment {
    /// The moment `seconds` after 1 January 1970, 00:00 UTC; `None` outside the years 1 to 9999.
    ///
    /// Days to civil dates after Hinnant, "chrono-compatible low-level date algorithms" (2013).
    pub fn from_epoch(seconds: i64) -> Option<Self> {
        if !(-62_135_596_800..253_402_300_800).contains(&seconds) {
            return None;
        }
        let shifted = seconds.div_euclid(DAY) + 719_468;
        let era = shifted.div_euclid(146_097);
        let day_of_era = shifted.rem_euclid(146_097);
        let year_of_era =
            (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * day_of_year + 2) / 153;
        let month = if from_march < 10 {
            from_march + 3
        } else {
            from_march - 9
        };
        Some(Self {
            year: i32::try_from(year_of_era + era * 400 + i64::from(month <= 2)).ok()?,
            month: u8::try_from(month).ok()?,
            day: u8::try_from(day_of_year - (153 * from_march + 2) / 5 + 1).ok()?,
            second_of_day: u32::try_from(seconds.rem_euclid(DAY)).ok()?,
        })
    }

    /// Its day.
    pub fn date(self) -> Day {
        Day {
            year: self.year,
            month: self.month,
            day: self.day,
        }
    }

    /// The date as typst knows it.
    pub(super) fn datetime(self) -> Option<Datetime> {
        let part = |value: u32| u8::try_from(value).ok();
        let (minutes, second) = (self.second_of_day / 60, self.second_of_day % 60);
        Datetime::from_ymd_hms(
            self.year,
            self.month,
            self.day,
            part(minutes / 60)?,
            part(minutes % 60)?,
            part(second)?,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_moments() {
        // Values of `date -u -d @SECONDS`.
        let of = |seconds| {
            let moment = Moment::from_epoch(seconds).unwrap();
            (moment.year, moment.month, moment.day, moment.second_of_day)
        };
        assert_eq!(of(0), (1970, 1, 1, 0));
        assert_eq!(of(951_782_400), (2000, 2, 29, 0));
        assert_eq!(of(1_790_000_000), (2026, 9, 21, 51_200));
        assert_eq!(of(-1), (1969, 12, 31, 86_399));
        assert_eq!(of(253_402_300_799), (9999, 12, 31, 86_399));
    }

    #[test]
    fn absurd_moments_are_refused() {
        assert_eq!(Moment::from_epoch(i64::MAX), None);
        assert_eq!(Moment::from_epoch(i64::MIN), None);
    }
}
