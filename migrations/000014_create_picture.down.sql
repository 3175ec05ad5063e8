DROP TABLE picture_data;
DROP TABLE picture;
