//! The notation of what an event carries: a reading, minutes of rest, an event that is struck out.

use serde::{Deserialize, Serialize};

use crate::domain::event::EventValue;
use crate::domain::heat::{Measured, Scale};

#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(default)]
struct WrittenValue {
    /// As it was typed: `138.2`.
    #[serde(skip_serializing_if = "Option::is_none")]
    degrees: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    scale: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    minutes: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    strikes: Option<String>,
}

pub fn write_value(value: &EventValue) -> String {
    let written = match value {
        EventValue::Nothing => WrittenValue::default(),
        EventValue::Reading(heat) => WrittenValue {
            degrees: Some(heat.figure()),
            scale: Some(heat.scale.letter().to_owned()),
            ..WrittenValue::default()
        },
        EventValue::Rest { minutes } => {
            WrittenValue { minutes: Some(*minutes), ..WrittenValue::default() }
        }
        EventValue::Strikes(id) => {
            WrittenValue { strikes: Some(id.to_string()), ..WrittenValue::default() }
        }
    };
    super::to_json(&written)
}

/// What other events carry is left alone.
pub fn read_value(text: &str) -> Result<EventValue, String> {
    let written: WrittenValue = serde_json::from_str(text).map_err(|error| error.to_string())?;
    if let (Some(degrees), Some(scale)) = (&written.degrees, &written.scale) {
        let scale = Scale::parse(scale).ok_or_else(|| format!("scale: {scale}"))?;
        let heat = Measured::parse(degrees, scale).ok_or_else(|| format!("degrees: {degrees}"))?;
        return Ok(EventValue::Reading(heat));
    }
    Ok(match (written.minutes, written.strikes) {
        (Some(minutes), _) => EventValue::Rest { minutes },
        (None, Some(id)) => EventValue::Strikes(id.parse().map_err(|_| format!("strikes: {id}"))?),
        (None, None) => EventValue::Nothing,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    #[test]
    fn values_come_back_as_they_were_written() {
        for value in [
            EventValue::Nothing,
            EventValue::Reading(Measured { tenths: 1382, scale: Scale::Fahrenheit }),
            EventValue::Reading(Measured { tenths: -5, scale: Scale::Celsius }),
            EventValue::Rest { minutes: 3 },
            EventValue::Strikes(Uuid::from_u128(7)),
        ] {
            assert_eq!(read_value(&write_value(&value)), Ok(value));
        }
        assert_eq!(read_value("{}"), Ok(EventValue::Nothing));
        assert!(read_value(r#"{"degrees":"hot","scale":"F"}"#).is_err());
    }
}
