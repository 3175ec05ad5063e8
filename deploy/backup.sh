#!/bin/sh
# Writes a dump of the register into a folder and prints its name:
#
#   ROCKLEDGER_ADMIN_URL=postgres://rockledger_owner@127.0.0.1/rockledger \
#   PGPASSFILE=owner.pgpass deploy/backup.sh /var/backups/rockledger
#
# It dumps as the owner, whom row security does not hold; another role would be
# refused, not given a part. The dump holds where caves are, whose land is whose,
# names and notes: keep it as the database itself is kept, and on another
# machine too. Roles and their passwords are not in it. Old dumps are left to
# you; the register only grows, so keep more than the last. Pictures are in it
# unless they are kept in a folder (ROCKLEDGER_PICTURES=folder): then copy that
# folder too, after the dump.
set -eu
dir=${1:?folder for the dump}
umask 077
mkdir -p "${dir}"
dump=${dir}/rockledger-$(date -u +%Y%m%dT%H%M%SZ).dump
trap 'rm -f "${dump}.part"' EXIT
pg_dump --format=custom --dbname="${ROCKLEDGER_ADMIN_URL:?}" --file="${dump}.part"
pg_restore --list "${dump}.part" >/dev/null # it can be read to its end of contents
mv "${dump}.part" "${dump}"
echo "${dump}"
