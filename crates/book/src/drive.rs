//! Whether a file lies on a network drive.
//!
//! SQLite relies on locks and on memory that all its users share, and says itself that its
//! write-ahead log does not work over a network file system. Two programs on two machines can then
//! damage the book, and nothing tells them.

use std::fs;
use std::path::{Path, PathBuf};

/// File systems that reach over a network, or through another program that may.
const NETWORK: [&str; 15] = [
    "9p",
    "afs",
    "beegfs",
    "ceph",
    "cifs",
    "davfs",
    "glusterfs",
    "gfs2",
    "lustre",
    "ncpfs",
    "nfs",
    "nfs4",
    "ocfs2",
    "smb3",
    "smbfs",
];

/// What Linux knows about the mounts of this program.
const MOUNTS: &str = "/proc/self/mountinfo";

/// The network file system that a file lies on; nothing where it lies on a disk of this machine or
/// where that cannot be found out, as on systems other than Linux.
pub(crate) fn network_drive(file: &Path) -> Option<String> {
    let mounts = fs::read_to_string(MOUNTS).ok()?;
    file_system(&mounts, &whole_path(file)?).filter(|name| is_network(name))
}

fn is_network(name: &str) -> bool {
    NETWORK.contains(&name) || name.starts_with("fuse.")
}

/// The path without links; of a file that is not there yet, that of its nearest folder.
fn whole_path(file: &Path) -> Option<PathBuf> {
    let from_here = std::path::absolute(file).ok()?;
    from_here.ancestors().find_map(|path| path.canonicalize().ok())
}

/// The type of the file system with the longest mount point above a path; of two at one point, the
/// later one, which hides the other.
fn file_system(mounts: &str, path: &Path) -> Option<String> {
    let mounts = mounts.lines().filter_map(mount);
    let above = mounts.filter(|(point, _)| path.starts_with(point));
    above.max_by_key(|(point, _)| point.components().count()).map(|(_, kind)| kind.to_owned())
}

/// Mount point and type of one line: the fifth field, and the first one behind the lone hyphen.
fn mount(line: &str) -> Option<(PathBuf, &str)> {
    let (before, behind) = line.split_once(" - ")?;
    let point = before.split(' ').nth(4)?;
    Some((PathBuf::from(plain(point)), behind.split(' ').next()?))
}

/// A mount point with its blanks, which are written as octal digits.
fn plain(point: &str) -> String {
    point.replace("\\040", " ").replace("\\011", "\t").replace("\\134", "\\")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lines in the form that the manual page proc_pid_mountinfo(5) gives.
    const MOUNTED: &str = "\
        22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw\n\
        40 22 0:35 / /srv rw - nfs4 store:/srv rw,vers=4.2\n\
        41 40 8:2 / /srv/fast\\040disk rw master:2 - xfs /dev/sdb1 rw\n\
        42 22 0:40 / /mnt/far rw - ext4 /dev/sdc1 rw\n\
        43 22 0:41 / /mnt/far rw - fuse.sshfs far:/ rw\n";

    #[test]
    fn the_nearest_mount_decides() {
        let kind = |path| file_system(MOUNTED, Path::new(path)).unwrap();
        assert_eq!(kind("/home/ab/book.sqlite"), "ext4");
        assert_eq!(kind("/srv/book.sqlite"), "nfs4");
        assert_eq!(kind("/srv/fast disk/book.sqlite"), "xfs");
        assert_eq!(kind("/srvx"), "ext4");
        assert!(is_network(&kind("/mnt/far/b")) && !is_network(&kind("/srvx")));
    }
}
