-- What only a list says of an anchor: grave words, and words not understood.
ALTER TABLE inspection DROP CONSTRAINT inspection_observations_listed;
ALTER TABLE inspection ADD CONSTRAINT inspection_observations_listed CHECK (observations <@ ARRAY[
  'spins', 'anchor-turns', 'hanger-turns', 'loose-nut', 'rust', 'surface-rust', 'tea-staining', 'cracked-glue', 'hanger-bent',
  'hollow-sound', 'cracked-rock', 'cracked-metal', 'called-unsafe', 'unclear-words']);
ALTER TABLE inspection ADD CONSTRAINT inspection_observations_misfit
  CHECK (origin = 'imported' OR NOT observations && ARRAY['called-unsafe', 'unclear-words']);
