-- What the server's role may do; it owns nothing, so that row-level security holds for it.
grant usage on schema slipbook to {role};
grant select on migration to {role};
grant select, update on workshop to {role};
grant select, insert, update on entry to {role};
grant select, insert, update, delete on returned to {role};
grant select, insert on photo to {role};
grant select, insert, delete on photo_piece to {role};
-- Who may come in.
grant select, insert, update, delete on device, feed, pairing, wrong_code, amount to {role};
grant execute on function device_of_token(text), feed_of_secret(text), count_guess(float8) to {role};
