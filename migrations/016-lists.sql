-- Lists that came in: each with its rows as they were written, what is wrong with them, and the pieces that came of
-- them. A list is taken in some rows at a time, so its state says where it stands if the program is stopped.

CREATE TABLE list_in (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  state TEXT NOT NULL CHECK (state IN ('reading', 'checking', 'ready', 'taking in', 'in', 'taking back',
    'taken back', 'failed', 'stopped')),
  problem TEXT NOT NULL DEFAULT '' CHECK (length(problem) <= 500),
  heading TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(heading)),
  columns TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(columns)),
  writing TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(writing)),
  skip_twins INTEGER NOT NULL DEFAULT 1 CHECK (skip_twins IN (0, 1))
) STRICT;
CREATE INDEX list_in_by_heading ON list_in (heading);

-- mark: what the row says, hashed, with its number among equal rows of its list; twin: an earlier list brought it.
CREATE TABLE list_row (
  list_in_id INTEGER NOT NULL REFERENCES list_in (id),
  row_number INTEGER NOT NULL CHECK (row_number BETWEEN 1 AND 100000),
  cells TEXT NOT NULL CHECK (json_valid(cells)),
  problems TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(problems)),
  mark TEXT NOT NULL DEFAULT '' CHECK (length(mark) <= 60),
  twin INTEGER NOT NULL DEFAULT 0 CHECK (twin IN (0, 1)),
  piece_id INTEGER REFERENCES piece (id),
  request_key TEXT CHECK (length(request_key) <= 80),
  PRIMARY KEY (list_in_id, row_number),
  CHECK ((piece_id IS NULL) = (request_key IS NULL))
) STRICT, WITHOUT ROWID;
CREATE INDEX list_row_wrong ON list_row (list_in_id, row_number) WHERE problems <> '[]';
CREATE INDEX list_row_by_mark ON list_row (mark) WHERE piece_id IS NOT NULL;
CREATE INDEX list_row_by_request ON list_row (list_in_id, request_key) WHERE request_key IS NOT NULL;
