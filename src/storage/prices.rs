//! What foods cost a school, each price on its day.

use super::{CorruptRow, Storage, StorageError};
use crate::domain::cost::{Price, PriceId, Prices};
use crate::domain::school::{Currency, SchoolId};
use crate::exchange::document;

#[derive(sqlx::FromRow)]
struct PriceRow {
    price_id: uuid::Uuid,
    price: String,
}

impl Storage {
    /// The prices a school wrote in this currency.
    pub async fn prices(
        &self,
        school: SchoolId,
        currency: Currency,
    ) -> Result<Prices, StorageError> {
        let rows = sqlx::query_as::<_, PriceRow>(
            "select price_id, price from price where school_id = ? and currency = ?",
        )
        .bind(school.0)
        .bind(currency.code())
        .fetch_all(&self.readers)
        .await?;
        let read = |row: &PriceRow| {
            document::read::<Price>(&row.price).map_err(|error| CorruptRow {
                table: "price",
                column: "price",
                row: row.price_id,
                reason: error.to_string(),
            })
        };
        let prices: Result<Vec<Price>, CorruptRow> = rows.iter().map(read).collect();
        Ok(Prices::of(currency.code(), prices?))
    }

    /// Keeps new prices, all or none.
    pub async fn add_prices(
        &self,
        school: SchoolId,
        currency: Currency,
        prices: &[(PriceId, Price)],
    ) -> Result<(), StorageError> {
        let rows: Vec<_> =
            prices.iter().map(|(id, price)| (id.0, document::write(price))).collect();
        self.write(move |connection| {
            Box::pin(async move {
                for (id, text) in rows {
                    sqlx::query(
                        "insert into price (price_id, school_id, currency, price)
                         values (?, ?, ?, ?)",
                    )
                    .bind(id)
                    .bind(school.0)
                    .bind(currency.code())
                    .bind(text)
                    .execute(&mut *connection)
                    .await?;
                }
                Ok(())
            })
        })
        .await
    }
}
