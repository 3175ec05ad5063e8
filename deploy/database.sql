-- Gives the two roles the passwords of their pass files and makes the database
-- "rockledger". Safe to repeat. Run by psql as a superuser after
-- migrations/roles.sql; see docker-compose.yml.

-- Neither the log nor an error's context may hold a password.
SET log_statement = 'none';
SET log_min_error_statement = 'panic';

-- host:port:database:user:password
\set owner_password `cut -d : -f 5 /run/secrets/owner`
\set app_password `cut -d : -f 5 /run/secrets/app`
ALTER ROLE rockledger_owner PASSWORD :'owner_password';
ALTER ROLE rockledger_app PASSWORD :'app_password';

SELECT 'CREATE DATABASE rockledger OWNER rockledger_owner TEMPLATE template0 ENCODING ''UTF8'''
WHERE NOT EXISTS (SELECT FROM pg_database WHERE datname = 'rockledger')
\gexec
