//! Quantities in a parameter file: a number in the bare unit, or a string with a unit.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error, Visitor};
use serde::ser::{Serialize, Serializer};

use crate::parse::parse;
use crate::quantity::{Angle, Flow, Length, Mass, Quantity, Salinity, Speed, Temperature, Volume};

struct QuantityVisitor<Q>(std::marker::PhantomData<Q>);

impl<Q: Quantity> Visitor<'_> for QuantityVisitor<Q> {
    type Value = Q;
    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "a {} in {} or a string such as {:?}",
            Q::KIND.name,
            Q::KIND.bare_unit,
            Q::KIND.example
        )
    }
    fn visit_f64<E: Error>(self, value: f64) -> Result<Q, E> {
        if value.is_finite() {
            Ok(Q::from_bare(value))
        } else {
            Err(E::custom("not a finite number"))
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a length of 2^53 mm is refused elsewhere")]
    fn visit_i64<E: Error>(self, value: i64) -> Result<Q, E> {
        Ok(Q::from_bare(value as f64))
    }
    #[expect(clippy::cast_precision_loss, reason = "a length of 2^53 mm is refused elsewhere")]
    fn visit_u64<E: Error>(self, value: u64) -> Result<Q, E> {
        Ok(Q::from_bare(value as f64))
    }
    fn visit_str<E: Error>(self, text: &str) -> Result<Q, E> {
        parse(text).map_err(E::custom)
    }
}

macro_rules! file_form {
    ($($type:ident),*) => {$(
        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                deserializer.deserialize_any(QuantityVisitor(std::marker::PhantomData))
            }
        }
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_f64(self.to_bare())
            }
        }
        /// `x-quantity` names the kind of quantity, so that a checker of files can read the string itself;
        /// `pattern` is for editors.
        impl JsonSchema for $type {
            fn schema_name() -> Cow<'static, str> {
                stringify!($type).into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({
                    "title": concat!(stringify!($type)),
                    "description": format!("A {} in {}, or a string with a unit such as {:?}.", Self::KIND.name, Self::KIND.bare_unit, Self::KIND.example),
                    "type": ["number", "string"],
                    "pattern": Self::KIND.pattern(),
                    "x-quantity": Self::KIND.name,
                })
            }
        }
    )*};
}
file_form!(Length, Volume, Flow, Temperature, Salinity, Angle, Mass, Speed);
