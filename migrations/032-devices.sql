-- Who reaches the book over the workroom's network: devices that were let in, what people are told apart by, and who is
-- signed in where. PINs, passphrases, tokens and invitations are kept as hashes only.

-- Only over the network does it matter: until now everybody did everything.
ALTER TABLE person ADD COLUMN role TEXT NOT NULL DEFAULT 'keeper' CHECK (role IN ('keeper', 'hand'));

-- A device with a person is that person's own, another is shared. The first is the machine that the book lies on, which
-- nobody had to let in.
CREATE TABLE device (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 60),
  person_id INTEGER REFERENCES person (id),
  paired_at TEXT CHECK (paired_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  paired_by INTEGER REFERENCES person (id),
  seen_at TEXT CHECK (seen_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  sent_away_at TEXT CHECK (sent_away_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z')
) STRICT;

INSERT INTO device (name) VALUES ('Workroom computer');

-- The device that a form was sent from; NULL where it was carried out before devices were told apart.
ALTER TABLE request ADD COLUMN device_id INTEGER REFERENCES device (id);

-- The hash has its own parameters in it. Failures are those in a row, counted before a try is looked at.
CREATE TABLE person_secret (
  person_id INTEGER NOT NULL REFERENCES person (id),
  kind TEXT NOT NULL CHECK (kind IN ('pin', 'passphrase')),
  hash TEXT NOT NULL CHECK (length(hash) BETWEEN 40 AND 400),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  failures INTEGER NOT NULL CHECK (failures BETWEEN 0 AND 100),
  failing_since TEXT CHECK (failing_since GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  failed_at TEXT CHECK (failed_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  failed_on_id INTEGER REFERENCES device (id),
  PRIMARY KEY (person_id, kind)
) STRICT, WITHOUT ROWID;

-- One row for each token that a browser holds. Nobody may be chosen yet; a keeper has given the passphrase.
CREATE TABLE sign_in (
  token_hash TEXT PRIMARY KEY CHECK (length(token_hash) = 64),
  device_id INTEGER NOT NULL REFERENCES device (id),
  person_id INTEGER REFERENCES person (id),
  keeper INTEGER NOT NULL CHECK (keeper IN (0, 1)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  seen_at TEXT NOT NULL CHECK (seen_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  CHECK (keeper = 0 OR person_id IS NOT NULL)
) STRICT, WITHOUT ROWID;

CREATE TABLE invitation (
  code_hash TEXT PRIMARY KEY CHECK (length(code_hash) = 64),
  device_name TEXT NOT NULL CHECK (length(device_name) BETWEEN 1 AND 60),
  person_id INTEGER REFERENCES person (id),
  invited_by INTEGER REFERENCES person (id),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z')
) STRICT, WITHOUT ROWID;

-- Whether the workroom's network is served, in which subnets it was switched on, the name of the Wi-Fi for the poster,
-- and whether the program's own certificate is used. No row: it was never switched on.
CREATE TABLE network (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  is_on INTEGER NOT NULL CHECK (is_on IN (0, 1)),
  subnets TEXT NOT NULL CHECK (length(subnets) <= 400),
  wifi_name TEXT NOT NULL CHECK (length(wifi_name) <= 60),
  own_certificate INTEGER NOT NULL CHECK (own_certificate IN (0, 1))
) STRICT;
