DROP FUNCTION position_in_box;
DROP INDEX position_in_box_idx;
