#!/usr/bin/env bash
# Runs a command with a PostgreSQL server of its own: checks/postgres.sh COMMAND [ARGUMENT…]
# The server belongs to an ordinary user, keeps its data in a temporary folder, listens on a socket
# in that folder and nowhere else, and goes away with the command. Its address stands in
# BOOK_POSTGRES.
set -euo pipefail

fail() {
    printf 'postgres.sh: %s\n' "$*" >&2
    exit 1
}

[ $# -gt 0 ] || fail "name a command to run"

# Debian keeps the server's programs out of the way, by version; the newest is taken.
programs=$(find /usr/lib/postgresql -maxdepth 2 -name bin 2>/dev/null | sort -V | tail -n 1)
if [ -z "$programs" ]; then
    found=$(command -v initdb || true)
    [ -n "$found" ] || fail "no PostgreSQL server is installed: apt-get install postgresql"
    programs=$(dirname "$found")
fi

# The server refuses to run as root.
as_user() {
    if [ "$(id -u)" -eq 0 ]; then
        runuser -u "$owner" -- "$@"
    else
        "$@"
    fi
}

owner=$(id -un)
if [ "$owner" = root ]; then
    owner=postgres
    id "$owner" >/dev/null 2>&1 || owner=nobody
fi

folder=$(mktemp -d)
chmod 700 "$folder"
[ "$(id -u)" -ne 0 ] || chown "$owner" "$folder"

stop() {
    as_user "$programs/pg_ctl" --pgdata="$folder/data" --mode=immediate --silent stop || true
    rm -rf "$folder"
}
trap stop EXIT

cd "$folder"
as_user "$programs/initdb" --pgdata="$folder/data" --auth=trust --username=bench \
    --encoding=UTF8 --locale=C.UTF-8 --no-sync >/dev/null || fail "initdb"
# What these tests write is thrown away with the folder, so the disk is not waited for.
as_user "$programs/pg_ctl" --pgdata="$folder/data" --log="$folder/log" --silent --wait start \
    --options="-k $folder -c listen_addresses='' -c fsync=off -c max_connections=200" ||
    { cat "$folder/log" >&2; fail "the server did not start"; }
cd "$OLDPWD"

export BOOK_POSTGRES="postgres://bench@localhost/postgres?host=$folder"
"$@"
