DO $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM pg_class WHERE relname = 'berth_state_idx') THEN
    CREATE INDEX berth_state_idx ON berth (state, depth);
  END IF;
  BEGIN
    ALTER TABLE berth ADD COLUMN length numeric;
  EXCEPTION
    WHEN duplicate_column THEN RAISE NOTICE 'there already; fine';
  END;
END
$$
/
DO LANGUAGE plpgsql $x$
BEGIN
  PERFORM 1;
  CREATE INDEX berth_length_idx ON berth (length);
END;
$x$
/
