//! Where a request comes from, and how often it may try a secret.

use std::convert::Infallible;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};

use axum::extract::FromRequestParts;
use axum::http::request::Parts;

use super::extract::hash_of;
use super::{AppState, PageError};
use crate::domain::account::TryKind;

/// The other end of the connection, set by the accept loop. Headers that claim another are not
/// believed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Peer(pub IpAddr);

impl Peer {
    /// The part of an address that one customer holds: of IPv6 the first half.
    fn subject(self) -> String {
        match self.0.to_canonical() {
            IpAddr::V4(address) => address.to_string(),
            IpAddr::V6(address) => {
                let bits = u128::from(address) >> 64 << 64;
                Ipv6Addr::from(bits).to_string()
            }
        }
    }
}

impl<S: Sync> FromRequestParts<S> for Peer {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        // Without the accept loop, as in tests, everybody counts as one.
        Ok(parts.extensions.get().copied().unwrap_or(Self(Ipv4Addr::UNSPECIFIED.into())))
    }
}

/// One sign-in under way, counted before the password is looked at.
#[derive(Clone, Copy, Debug)]
pub struct CountedTry {
    login: [u8; 32],
    address: [u8; 32],
}

impl CountedTry {
    /// Counts a try under a name, known here or not, and from an address.
    pub async fn begin(state: &AppState, peer: Peer, name: &str) -> Result<Self, PageError> {
        let (login, address) = (hash_of(name), hash_of(&peer.subject()));
        count(state, TryKind::Address, address).await?;
        count(state, TryKind::Login, login).await?;
        Ok(Self { login, address })
    }

    /// The password was right: the name starts afresh, the address gets its try back.
    pub async fn succeeded(self, state: &AppState) -> Result<(), PageError> {
        state.storage.forget_tries(TryKind::Login, self.login).await?;
        Ok(state.storage.forgive_try(TryKind::Address, self.address).await?)
    }
}

/// Counts the opening of a link that leads nowhere; whoever guesses is stopped.
pub async fn count_dead_link(state: &AppState, peer: Peer) -> Result<PageError, PageError> {
    count(state, TryKind::Link, hash_of(&peer.subject())).await?;
    Ok(PageError::NotFound)
}

async fn count(state: &AppState, kind: TryKind, subject: [u8; 32]) -> Result<(), PageError> {
    let counted = state.storage.count_try(kind, subject, state.clock.now()).await?;
    counted.map_err(|retry_after_seconds| PageError::TooMany { retry_after_seconds })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_counts_as_its_customer() {
        let subject = |text: &str| Peer(text.parse().unwrap()).subject();
        assert_eq!(subject("192.0.2.7"), subject("::ffff:192.0.2.7"));
        assert_eq!(subject("2001:db8:1:2:3::4"), subject("2001:db8:1:2:ffff::"));
        assert_ne!(subject("2001:db8:1:2::"), subject("2001:db8:1:3::"));
    }
}
