//! Menus as they are being put together.

use jiff::Timestamp;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::error::is_foreign;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::dish::DishId;
use crate::domain::layout::DraftDish;
use crate::domain::menu::{Menu, MenuDraft, MenuId};
use crate::domain::school::SchoolId;
use crate::domain::text::Name;
use crate::exchange::{document, rows};

/// A menu with everything it is laid out from: one row of the database.
#[derive(Clone, Debug)]
pub struct MenuFacts {
    pub menu: Menu,
    pub version: u32,
    /// In menu order.
    pub dishes: Vec<DraftDish>,
    /// Every base of the school.
    pub bases: Vec<DraftDish>,
}

/// A menu as a list shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MenuLine {
    pub id: MenuId,
    pub name: Name,
    pub draft: MenuDraft,
    pub dishes: u32,
    pub classes: u32,
    /// Number and check word of what was published last.
    pub published: Option<(u32, String)>,
}

/// What became of a menu that was to be saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MenuSaved {
    Saved,
    /// Changed by somebody else meanwhile, or not there.
    Stale,
    /// A dish on it is not the school's.
    StrangeDish,
}

impl Storage {
    pub async fn add_menu(
        &self,
        school: SchoolId,
        menu: &Menu,
        at: Timestamp,
    ) -> Result<MenuSaved, StorageError> {
        let menu = menu.clone();
        let added = self
            .write(move |connection| {
                Box::pin(async move {
                    sqlx::query(
                        "insert into menu (menu_id, school_id, name, draft, changed_at)
                         values (?, ?, ?, ?, ?)",
                    )
                    .bind(menu.id.0)
                    .bind(school.0)
                    .bind(menu.name.as_str())
                    .bind(document::write(&menu.draft))
                    .bind(at.as_second())
                    .execute(&mut *connection)
                    .await?;
                    put_dishes(connection, school, menu.id, &menu.dishes).await?;
                    Ok(1)
                })
            })
            .await;
        saved(added)
    }

    /// Saves what was made from `version`.
    pub async fn save_menu(
        &self,
        school: SchoolId,
        menu: &Menu,
        version: u32,
        at: Timestamp,
    ) -> Result<MenuSaved, StorageError> {
        let menu = menu.clone();
        let changed = self
            .write(move |connection| {
                Box::pin(async move {
                    let done = sqlx::query(
                        "update menu set name = ?, draft = ?, changed_at = ?, version = version + 1
                         where school_id = ? and menu_id = ? and version = ?",
                    )
                    .bind(menu.name.as_str())
                    .bind(document::write(&menu.draft))
                    .bind(at.as_second())
                    .bind(school.0)
                    .bind(menu.id.0)
                    .bind(version)
                    .execute(&mut *connection)
                    .await?;
                    if done.rows_affected() == 0 {
                        return Ok(0);
                    }
                    sqlx::query("delete from menu_dish where school_id = ? and menu_id = ?")
                        .bind(school.0)
                        .bind(menu.id.0)
                        .execute(&mut *connection)
                        .await?;
                    put_dishes(connection, school, menu.id, &menu.dishes).await?;
                    Ok(1)
                })
            })
            .await;
        saved(changed)
    }

    /// `None` when the school has no such menu.
    pub async fn menu(
        &self,
        school: SchoolId,
        id: MenuId,
    ) -> Result<Option<MenuFacts>, StorageError> {
        let row = sqlx::query_as::<_, MenuRow>(
            "select m.menu_id, m.name, m.draft, m.version,
                 (select json_group_array(
                      json_array(hex(d.dish_id), d.title, d.kind, d.draft) order by md.place)
                  from menu_dish md
                  join dish d on d.school_id = md.school_id and d.dish_id = md.dish_id
                  where md.school_id = m.school_id and md.menu_id = m.menu_id) as dishes,
                 (select json_group_array(
                      json_array(hex(b.dish_id), b.title, b.kind, b.draft) order by b.title_folded)
                  from dish b
                  where b.school_id = m.school_id and b.kind = 'base') as bases
             from menu m where m.school_id = ? and m.menu_id = ?",
        )
        .bind(school.0)
        .bind(id.0)
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(MenuFacts::try_from).transpose()?)
    }

    /// The last changed first.
    pub async fn menus(&self, school: SchoolId) -> Result<Vec<MenuLine>, StorageError> {
        let rows = sqlx::query_as::<_, MenuLineRow>(
            "select m.menu_id, m.name, m.draft,
                 (select count(*) from menu_dish md
                  where md.school_id = m.school_id and md.menu_id = m.menu_id) as dishes,
                 (select count(*) from cooking_class c
                  where c.school_id = m.school_id and c.menu_id = m.menu_id) as classes,
                 p.number, p.check_word
             from menu m
             left join publication p on p.school_id = m.school_id and p.menu_id = m.menu_id
                 and p.number = (select max(number) from publication n
                                 where n.school_id = m.school_id and n.menu_id = m.menu_id)
             where m.school_id = ? order by m.changed_at desc, m.menu_id desc",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(MenuLine::try_from).collect::<Result<_, _>>()?)
    }
}

impl Storage {
    /// The menus that a dish is in, the last changed first. Bases come along unnamed: they are in none.
    pub async fn menus_with(
        &self,
        school: SchoolId,
        dish: DishId,
    ) -> Result<Vec<(MenuId, String)>, StorageError> {
        let rows: Vec<(Uuid, String)> = sqlx::query_as(
            "select m.menu_id, m.name from menu_dish md
             join menu m on m.school_id = md.school_id and m.menu_id = md.menu_id
             where md.school_id = ? and md.dish_id = ? order by m.changed_at desc, m.menu_id desc",
        )
        .bind(school.0)
        .bind(dish.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(|(id, name)| (MenuId(id), name)).collect())
    }
}

async fn put_dishes(
    connection: &mut SqliteConnection,
    school: SchoolId,
    menu: MenuId,
    dishes: &[DishId],
) -> sqlx::Result<()> {
    for (place, dish) in (0_u32..).zip(dishes) {
        sqlx::query(
            "insert into menu_dish (school_id, menu_id, place, dish_id) values (?, ?, ?, ?)",
        )
        .bind(school.0)
        .bind(menu.0)
        .bind(place)
        .bind(dish.0)
        .execute(&mut *connection)
        .await?;
    }
    Ok(())
}

fn saved(changed: Result<u64, StorageError>) -> Result<MenuSaved, StorageError> {
    match changed {
        Ok(1) => Ok(MenuSaved::Saved),
        Ok(_) => Ok(MenuSaved::Stale),
        Err(error) if is_foreign(&error) => Ok(MenuSaved::StrangeDish),
        Err(error) => Err(error),
    }
}

#[derive(FromRow)]
struct MenuRow {
    menu_id: Uuid,
    name: String,
    draft: String,
    version: u32,
    dishes: String,
    bases: String,
}

impl TryFrom<MenuRow> for MenuFacts {
    type Error = CorruptRow;

    fn try_from(row: MenuRow) -> Result<Self, CorruptRow> {
        let corrupt =
            |column, reason| CorruptRow { table: "menu", column, row: row.menu_id, reason };
        let dishes = rows::draft_dishes(&row.dishes).map_err(|e| corrupt("dishes", e))?;
        let menu = Menu {
            id: MenuId(row.menu_id),
            name: Name::parse(&row.name).map_err(|e| corrupt("name", e.to_string()))?,
            draft: document::read(&row.draft).map_err(|e| corrupt("draft", e.to_string()))?,
            dishes: dishes.iter().map(|dish| dish.id).collect(),
        };
        let bases = rows::draft_dishes(&row.bases).map_err(|e| corrupt("bases", e))?;
        Ok(Self { menu, version: row.version, dishes, bases })
    }
}

#[derive(FromRow)]
struct MenuLineRow {
    menu_id: Uuid,
    name: String,
    draft: String,
    dishes: u32,
    classes: u32,
    number: Option<u32>,
    check_word: Option<String>,
}

impl TryFrom<MenuLineRow> for MenuLine {
    type Error = CorruptRow;

    fn try_from(row: MenuLineRow) -> Result<Self, CorruptRow> {
        let corrupt =
            |column, reason| CorruptRow { table: "menu", column, row: row.menu_id, reason };
        Ok(Self {
            id: MenuId(row.menu_id),
            name: Name::parse(&row.name).map_err(|e| corrupt("name", e.to_string()))?,
            draft: document::read(&row.draft).map_err(|e| corrupt("draft", e.to_string()))?,
            dishes: row.dishes,
            classes: row.classes,
            published: row.number.zip(row.check_word),
        })
    }
}
