//! Password hashes: few at once, a short queue before them, never on the threads that answer.

use std::sync::Arc;

use argon2::password_hash::phc::PasswordHash;
use argon2::{Algorithm, Argon2, Params, PasswordHasher, PasswordVerifier, Version};
use tokio::sync::Semaphore;

use crate::domain::account::Password;

/// What one hash costs whoever guesses, and us.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cost {
    pub memory_kib: u32,
    pub passes: u32,
}

impl Cost {
    /// OWASP Password Storage Cheat Sheet: argon2id with 19 MiB, 2 passes, 1 lane.
    pub const STANDARD: Self = Self { memory_kib: 19_456, passes: 2 };
}

/// Makes and checks hashes. Cheap to clone; all clones share one queue.
#[derive(Clone, Debug)]
pub struct Hasher {
    cost: Cost,
    /// One hash a core, since each fills its memory.
    running: Arc<Semaphore>,
    /// Those that run and those that wait.
    places: Arc<Semaphore>,
}

#[derive(Debug, thiserror::Error)]
pub enum HashError {
    #[error("too many passwords are being checked")]
    Busy,
    #[error("a password hash failed: {0}")]
    Failed(String),
}

/// What checking a password came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    Wrong,
    Right,
    /// Right, and kept at another cost than ours: hash it anew.
    RightButDated,
}

impl Hasher {
    /// Waiting for one of these takes about a second; whoever comes later is asked to come back.
    pub const WAITING_MAX: usize = 32;

    pub fn new(cost: Cost) -> Self {
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        Self {
            cost,
            running: Arc::new(Semaphore::new(cores)),
            places: Arc::new(Semaphore::new(cores + Self::WAITING_MAX)),
        }
    }

    /// The hash of a new password as a PHC string.
    pub async fn hash(&self, password: &Password, salt: [u8; 16]) -> Result<String, HashError> {
        let (cost, password) = (self.cost, password.as_str().to_owned());
        self.run(move || {
            let made = argon(cost)?.hash_password_with_salt(password.as_bytes(), &salt);
            made.map(|hash| hash.to_string()).map_err(failed)
        })
        .await
    }

    /// Checks what was typed against a kept hash. Without one it takes as long and is wrong.
    pub async fn verify(&self, typed: &str, kept: Option<&str>) -> Result<Verdict, HashError> {
        let (cost, typed) = (self.cost, Password::spelled(typed));
        let kept_or_dummy = kept.map_or_else(|| dummy(cost), str::to_owned);
        let is_kept = kept.is_some();
        self.run(move || {
            let hash = PasswordHash::new(&kept_or_dummy).map_err(failed)?;
            let fits = argon(cost)?.verify_password(typed.as_bytes(), &hash).is_ok();
            Ok(match (fits && is_kept, cost_of(&hash) == Some(cost)) {
                (false, _) => Verdict::Wrong,
                (true, true) => Verdict::Right,
                (true, false) => Verdict::RightButDated,
            })
        })
        .await
    }

    async fn run<T, W>(&self, work: W) -> Result<T, HashError>
    where
        T: Send + 'static,
        W: FnOnce() -> Result<T, HashError> + Send + 'static,
    {
        let place = Arc::clone(&self.places).try_acquire_owned().map_err(|_| HashError::Busy)?;
        let turn = Arc::clone(&self.running).acquire_owned().await.map_err(|_| HashError::Busy)?;
        // The permits go with the work: a request that goes away does not free its core early.
        let done = tokio::task::spawn_blocking(move || {
            let done = work();
            drop((turn, place));
            done
        });
        done.await.map_err(|error| HashError::Failed(error.to_string()))?
    }
}

fn argon(cost: Cost) -> Result<Argon2<'static>, HashError> {
    let params = Params::new(cost.memory_kib, cost.passes, 1, None).map_err(failed)?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

fn cost_of(hash: &PasswordHash) -> Option<Cost> {
    let params = Params::try_from(hash).ok()?;
    Some(Cost { memory_kib: params.m_cost(), passes: params.t_cost() })
}

/// A hash that no password has, so that an unknown log-in takes as long as a known one.
fn dummy(cost: Cost) -> String {
    let Cost { memory_kib, passes } = cost;
    let (salt, sum) = ("A".repeat(22), "A".repeat(43));
    format!("$argon2id$v=19$m={memory_kib},t={passes},p=1${salt}${sum}")
}

fn failed(error: impl std::fmt::Display) -> HashError {
    HashError::Failed(error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    const CHEAP: Cost = Cost { memory_kib: 8, passes: 1 };

    fn password(typed: &str) -> Password {
        Password::parse(typed, &[]).unwrap()
    }

    #[tokio::test]
    async fn a_password_opens_in_either_spelling_and_nothing_else_does() {
        let hasher = Hasher::new(CHEAP);
        let kept = hasher.hash(&password("quince cr\u{e9}me ladle"), [7; 16]).await.unwrap();
        for (typed, verdict) in [
            ("quince cr\u{e9}me ladle", Verdict::Right),
            ("quince cre\u{301}me ladle", Verdict::Right),
            ("quince cr\u{e9}me ladl", Verdict::Wrong),
            ("Quince cr\u{e9}me ladle", Verdict::Wrong),
            ("", Verdict::Wrong),
        ] {
            assert_eq!(hasher.verify(typed, Some(&kept)).await.unwrap(), verdict, "{typed}");
        }
        assert_eq!(hasher.verify("quince", None).await.unwrap(), Verdict::Wrong);
        let dearer = Hasher::new(Cost { passes: 2, ..CHEAP });
        let verdict = dearer.verify("quince cr\u{e9}me ladle", Some(&kept)).await.unwrap();
        assert_eq!(verdict, Verdict::RightButDated);
    }

    #[tokio::test]
    async fn the_standard_cost_is_written_into_the_hash() {
        let hasher = Hasher::new(Cost::STANDARD);
        let kept = hasher.hash(&password("quince ladle barrow"), [7; 16]).await.unwrap();
        assert!(kept.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{kept}");
        assert_eq!(
            hasher.verify("quince", None).await.unwrap(),
            Verdict::Wrong,
            "the dummy is read"
        );
    }

    #[tokio::test]
    async fn a_full_queue_says_so_at_once() {
        let hasher = Hasher::new(CHEAP);
        let all = u32::try_from(hasher.places.available_permits()).unwrap();
        let _taken = hasher.places.acquire_many(all).await.unwrap();
        assert!(matches!(hasher.verify("quince", None).await, Err(HashError::Busy)));
    }
}
