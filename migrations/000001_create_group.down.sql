DROP TABLE ledger;
DROP TABLE house_rules;
DROP TABLE web_session;
DROP TABLE access_token;
DROP TABLE membership;
DROP TABLE account;
DROP TABLE anchor_group;
