//! Where a request comes from, and how often it may try a secret.

use std::convert::Infallible;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::request::Parts;

use super::extract::hash_of;
use super::{AppState, PageError};
use crate::domain::account::TryKind;

const FORWARDED_FOR: &str = "x-forwarded-for";

/// Whoever asks, set by the accept loop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Peer(pub IpAddr);

impl Peer {
    /// The other end of the connection or, when that is one of the house's own proxies, the one it
    /// spoke for. Of the addresses that `X-Forwarded-For` lists a proxy adds the last, and whoever
    /// asks can write the others: from the right, the first that is no proxy holds.
    pub fn of(end: IpAddr, headers: &HeaderMap, proxies: &[IpAddr]) -> Self {
        let is_proxy = |address: &IpAddr| proxies.contains(&address.to_canonical());
        if !is_proxy(&end) {
            return Self(end);
        }
        let mut holds = end;
        for value in headers.get_all(FORWARDED_FOR).iter().rev() {
            for entry in value.to_str().unwrap_or_default().rsplit(',') {
                let Ok(address) = entry.trim().parse() else { return Self(holds) };
                holds = address;
                if !is_proxy(&holds) {
                    return Self(holds);
                }
            }
        }
        Self(holds)
    }

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
    use axum::http::HeaderValue;

    use super::*;

    #[test]
    fn only_a_proxy_of_the_house_says_for_whom_it_asks() {
        let address = |text: &str| text.parse::<IpAddr>().unwrap();
        let of = |end: &str, lines: &[&'static str]| {
            let mut headers = HeaderMap::new();
            for line in lines {
                headers.append(FORWARDED_FOR, HeaderValue::from_static(line));
            }
            let proxies = [address("127.0.0.1"), address("10.0.0.2")];
            Peer::of(address(end), &headers, &proxies).0.to_string()
        };
        assert_eq!(of("192.0.2.7", &["203.0.113.9"]), "192.0.2.7", "a stranger claims another");
        assert_eq!(of("127.0.0.1", &["203.0.113.9"]), "203.0.113.9");
        assert_eq!(of("::ffff:127.0.0.1", &["203.0.113.9"]), "203.0.113.9");
        assert_eq!(of("127.0.0.1", &["198.51.100.1, 203.0.113.9, 10.0.0.2"]), "203.0.113.9");
        assert_eq!(of("127.0.0.1", &["198.51.100.1", "203.0.113.9,10.0.0.2"]), "203.0.113.9");
        assert_eq!(of("127.0.0.1", &["198.51.100.1, unknown"]), "127.0.0.1");
        assert_eq!(of("127.0.0.1", &[]), "127.0.0.1");
    }

    #[test]
    fn an_address_counts_as_its_customer() {
        let subject = |text: &str| Peer(text.parse().unwrap()).subject();
        assert_eq!(subject("192.0.2.7"), subject("::ffff:192.0.2.7"));
        assert_eq!(subject("2001:db8:1:2:3::4"), subject("2001:db8:1:2:ffff::"));
        assert_ne!(subject("2001:db8:1:2::"), subject("2001:db8:1:3::"));
    }
}
