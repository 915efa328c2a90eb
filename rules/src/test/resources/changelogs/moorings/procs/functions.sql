CREATE OR REPLACE FUNCTION berth_free(p_id bigint)
RETURNS boolean
LANGUAGE plpgsql
AS $function$
DECLARE
  v boolean;
BEGIN
  SELECT state = 'free' INTO v FROM berth WHERE id = p_id;
  EXECUTE 'CREATE INDEX nope ON berth (depth)';
  RETURN v;
END;
$function$;

COMMENT ON FUNCTION berth_free(bigint) IS 'says; free';
CREATE INDEX berth_changed_idx ON berth (changed_at);
