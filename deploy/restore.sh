#!/bin/sh
# Puts a dump of backup.sh into an empty database, all of it or nothing:
#
#   psql -d postgres -f migrations/roles.sql          # on a new server, as a superuser
#   createdb -O rockledger_owner rockledger           # never over a register in use
#   ROCKLEDGER_ADMIN_URL=postgres://rockledger_owner@127.0.0.1/rockledger \
#   PGPASSFILE=owner.pgpass deploy/restore.sh FILE
#   rockledger migrate up                             # when the dump is of an older version
#
# Try it now and then: a backup that was never put back is a hope.
set -eu
dump=${1:?dump to put back}
url=${ROCKLEDGER_ADMIN_URL:?}
tables=$(psql --no-psqlrc --tuples-only --no-align --dbname="${url}" \
	--command="SELECT count(*) FROM pg_class WHERE relnamespace = 'public'::regnamespace")
if [ "${tables}" != 0 ]; then
	echo "restore: the database is not empty: make a new one and name it in ROCKLEDGER_ADMIN_URL" >&2
	exit 1
fi
pg_restore --single-transaction --exit-on-error --no-owner --dbname="${url}" "${dump}"
psql --no-psqlrc --quiet --dbname="${url}" --command="SET client_min_messages = error" --command=ANALYZE
# Transactions are counted anew here: the ledger begins another era.
psql --no-psqlrc --quiet --dbname="${url}" --command="
DO \$\$
BEGIN
  IF to_regclass('ledger_era') IS NOT NULL THEN
    INSERT INTO ledger_era (era, why) SELECT max(era) + 1, 'restored' FROM ledger_era;
  END IF;
END
\$\$"
