DROP TABLE product_version;
DROP TABLE restriction;
DROP TABLE agreement;
DROP TABLE notice_anchor;
DROP TABLE notice;
DROP TABLE event;
DROP TABLE environment;
