ALTER TABLE inspection DROP CONSTRAINT inspection_observations_misfit;
ALTER TABLE inspection DROP CONSTRAINT inspection_observations_listed;
UPDATE inspection
SET observations = array_remove(array_remove(observations, 'called-unsafe'), 'unclear-words')
WHERE observations && ARRAY['called-unsafe', 'unclear-words'];
ALTER TABLE inspection ADD CONSTRAINT inspection_observations_listed CHECK (observations <@ ARRAY[
  'spins', 'anchor-turns', 'hanger-turns', 'loose-nut', 'rust', 'surface-rust', 'tea-staining', 'cracked-glue', 'hanger-bent',
  'hollow-sound', 'cracked-rock', 'cracked-metal']);
