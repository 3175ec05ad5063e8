DROP FUNCTION analyse_grown;
