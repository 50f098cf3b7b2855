//! Prices, in exact decimals.

use rust_decimal::{Decimal, RoundingStrategy};

/// An amount of money.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    /// How much.
    pub amount: Decimal,
    /// Of what: `USD`, `EUR`.
    pub currency: String,
}

impl Price {
    /// Reads `18.50 USD` or `USD 18.50`.
    ///
    /// # Errors
    /// What was found and what was expected, where there is no amount or no currency.
    pub fn parse(text: &str) -> Result<Self, String> {
        let wrong =
            || format!("`{}` is not a price: expected an amount and a currency, such as `18.50 USD`", text.trim());
        let mut words = text.split_whitespace();
        let (Some(first), Some(second), None) = (words.next(), words.next(), words.next()) else { return Err(wrong()) };
        let is_amount = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
        let (amount, currency) = if is_amount(first) { (first, second) } else { (second, first) };
        let is_plain = amount.chars().all(|c| c.is_ascii_digit() || c == '.');
        let is_currency = currency.len() == 3 && currency.chars().all(|c| c.is_ascii_alphabetic());
        if !is_plain || !is_currency {
            return Err(wrong());
        }
        let amount: Decimal = amount.parse().map_err(|_| wrong())?;
        Ok(Self { amount, currency: currency.to_uppercase() })
    }

    /// The price of so many, exactly; `None` beyond what a price can be.
    pub fn times(&self, count: u64) -> Option<Self> {
        Some(Self { amount: self.amount.checked_mul(count.into())?, currency: self.currency.clone() })
    }

    /// The price of so many hours, to the hundredth of an hour, and to the hundredth of the currency; halves go away from nought.
    pub fn for_hours(&self, hours_h: f64) -> Option<Self> {
        let half_up = RoundingStrategy::MidpointAwayFromZero;
        let hours = Decimal::from_f64_retain(hours_h)?.round_dp_with_strategy(2, half_up);
        let amount = self.amount.checked_mul(hours)?.round_dp_with_strategy(2, half_up);
        Some(Self { amount, currency: self.currency.clone() })
    }

    /// The sum; `None` for two currencies.
    pub fn plus(&self, other: &Self) -> Option<Self> {
        (self.currency == other.currency)
            .then(|| self.amount.checked_add(other.amount))
            .flatten()
            .map(|amount| Self { amount, currency: self.currency.clone() })
    }

    /// The amount with at least two decimals: `1,757.50` without the comma.
    pub fn amount_text(&self) -> String {
        let decimals = self.amount.scale().max(2);
        format!("{:.*}", decimals as usize, self.amount)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_exact() {
        let bag = Price::parse("18.45 usd").unwrap();
        assert_eq!(bag, Price::parse("USD 18.45").unwrap());
        // 94 x 18.45 = 1734.30
        assert_eq!(bag.times(94).unwrap().amount_text(), "1734.30");
        assert_eq!(Price::parse("0.1 EUR").unwrap().times(3).unwrap().amount_text(), "0.30");
        assert_eq!(bag.plus(&Price::parse("1 EUR").unwrap()), None);
    }

    #[test]
    fn hours_are_rounded_to_hundredths_before_they_are_paid() {
        let wage = Price::parse("40.10 USD").unwrap();
        // 12.345 h is 12.35 h (away from nought): 495.235, 495.24
        assert_eq!(wage.for_hours(12.345_000_1).unwrap().amount_text(), "495.24");
        assert_eq!(wage.for_hours(f64::NAN), None);
    }

    #[test]
    fn what_is_no_price_is_refused() {
        for text in ["18.50", "USD", "-3 USD", "1e3 USD", "18,50 EUR", "18.50 dollars", "18.50 USD each", "$18.50"] {
            assert!(Price::parse(text).is_err(), "{text}");
        }
    }
}
