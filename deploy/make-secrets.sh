#!/bin/sh
# Makes the secrets of docker-compose.yml in deploy/secrets, each once: what is
# there stays. To change one, delete its file, run this, and start anew.
#
#   superuser.txt   password of PostgreSQL's superuser (counts only while the
#                   database's volume is empty)
#   owner.txt       pass file (PGPASSFILE) of rockledger_owner
#   app.txt         pass file of rockledger_app
set -eu
cd "$(dirname "$0")"

# password prints 64 hexadecimal digits, so that no pass file needs escapes.
password() { od -An -N32 -tx1 /dev/urandom | tr -d ' \n'; }

# keep FILE TEXT writes a secret unless it exists. Containers read it as users
# of their own, so it is readable; the folder keeps other users out.
keep() {
	[ ! -e "secrets/$1" ] || return 0
	printf '%s\n' "$2" >"secrets/$1.new"
	chmod 0444 "secrets/$1.new"
	mv "secrets/$1.new" "secrets/$1"
	echo "made deploy/secrets/$1"
}

umask 077
mkdir -p secrets
chmod 0700 secrets
keep superuser.txt "$(password)"
keep owner.txt "*:*:*:rockledger_owner:$(password)"
keep app.txt "*:*:*:rockledger_app:$(password)"
