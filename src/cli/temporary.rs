//! A folder that goes when its command ends.

use std::os::unix::fs::DirBuilderExt;
use std::path::PathBuf;

use crate::clock::Chance;

pub struct TemporaryFolder(PathBuf);

impl TemporaryFolder {
    pub fn new(what: &str) -> std::io::Result<Self> {
        let name = format!("dovetray-{what}-{}", Chance::System.signs::<12>());
        let folder = std::env::temp_dir().join(name);
        // What a school keeps about people passes through it.
        std::fs::DirBuilder::new().mode(0o700).create(&folder)?;
        Ok(Self(folder))
    }

    pub const fn path(&self) -> &PathBuf {
        &self.0
    }
}

impl Drop for TemporaryFolder {
    fn drop(&mut self) {
        if let Err(error) = std::fs::remove_dir_all(&self.0) {
            tracing::warn!(%error, "the temporary folder stays");
        }
    }
}
