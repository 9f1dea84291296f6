#!/usr/bin/env bash
# checks/package.sh PROGRAM: makes the archive and the Debian package twice, and tries both as
# whoever gets them would.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
program=$(realpath "$1")
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT

fail() {
    printf 'package: FAILED: %s\n' "$*" >&2
    exit 1
}

# leads FOLDER: every link of a page in it leads to a file.
leads() {
    local page link
    while IFS= read -r page; do
        while IFS= read -r link; do
            [ -e "$(dirname "$page")/$link" ] || fail "$page leads to $link, which is not there"
        done < <(grep -oE '\]\([^)#:]+[)#]' "$page" | sed -E 's/^\]\((.*)[)#]$/\1/')
    done < <(find "$1" -name '*.md')
}

# has FILE WORDS: the list in FILE has a line that ends so.
has() { grep -qE "$2\$" "$1" || fail "the package has no $2"; }

export SOURCE_DATE_EPOCH=1700000000 MAINTAINER="A check of the packages <check@firm.example>"
"$root/dist/package" "$program" "$place/one" >"$place/made"
"$root/dist/package" "$program" "$place/two" >/dev/null
diff -r "$place/one" "$place/two" || fail "the same program gives other bytes"
env -u MAINTAINER "$root/dist/package" "$program" "$place/three" >"$place/alone" 2>"$place/why"
[ "$(wc -l <"$place/alone")" -eq 1 ] || fail "a package is made that names nobody"
grep -q "MAINTAINER" "$place/why" || fail "it is not said how a package is made"
archive=$(sed -n '1p' "$place/made")
deb=$(sed -n '2p' "$place/made")

# The archive, unpacked somewhere, with nothing of this project around it.
mkdir "$place/anywhere"
tar -xzf "$archive" -C "$place/anywhere"
cd "$place"/anywhere/toothrest-*
env -i HOME="$place" ./toothrest plan --cutter examples/cutters/k-117-half-inch-dull.toml \
    --machine examples/machines/left-bench.toml \
    --wheel examples/wheels/w-02-straight-cup-oxide.toml >"$place/sheet"
grep -q "SET-UP SHEET  K-117" "$place/sheet" || fail "the unpacked program plans nothing"
[ -s docs/guide/README.md ] || fail "the archive has no guide"
bash -n completions/toothrest.bash || fail "the completions are no bash"
leads .
(cd "$place/one" && sha256sum --quiet -c SHA256SUMS) || fail "the sums are not those of the files"
version=$(./toothrest --version)
version=${version#toothrest }
grep -q "^## $version" CHANGELOG.md || fail "CHANGELOG.md does not speak of $version"

# The Debian package, unpacked into a root of its own.
dpkg-deb --info "$deb" >"$place/info"
for line in "Package: toothrest" "Version: $version" "Depends: libc6 "; do
    grep -q "^ $line" "$place/info" || fail "the control file has no $line"
done
dpkg-deb --contents "$deb" >"$place/contents"
for path in usr/bin/toothrest usr/share/man/man1/toothrest-plan.1.gz \
    usr/share/bash-completion/completions/toothrest usr/share/doc/toothrest/copyright \
    usr/share/zsh/vendor-completions/_toothrest usr/share/doc/toothrest/guide/README.md \
    usr/share/fish/vendor_completions.d/toothrest.fish usr/share/doc/toothrest/licences.txt.gz \
    usr/share/doc/toothrest/GLOSSARY.md.gz usr/share/doc/toothrest/MESSAGES.md.gz \
    usr/share/doc/toothrest/ANSWERS.md.gz; do
    has "$place/contents" "$path"
done
if grep -vE '^[dl-]r[w-][x-]r-[x-]r-[x-] root/root' "$place/contents"; then
    fail "these are not root's, or not for everybody to read"
fi
dpkg-deb -x "$deb" "$place/root"
leads "$place/root/usr/share/doc/toothrest/guide"
env -i HOME="$place" "$place/root/usr/bin/toothrest" example >"$place/sheet"
grep -q "SET-UP SHEET" "$place/sheet" || fail "the installed program plans nothing"
MANWIDTH=100 groff -man -Tutf8 -P-cbou \
    <(gzip -dc "$place/root/usr/share/man/man1/toothrest-check.1.gz") >"$place/page"
grep -q "EXIT STATUS" "$place/page" || fail "the installed manual cannot be read"
(cd "$place/root" && dpkg-deb -e "$deb" "$place/control" && md5sum --quiet -c "$place/control/md5sums") ||
    fail "the sums in the package are not those of its files"
echo "package: $(basename "$archive") and $(basename "$deb") are as they should be"
