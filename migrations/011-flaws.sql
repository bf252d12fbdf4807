-- Flaws of pieces, widths measured again, where a remnant lay in the piece that it came off, and how many plies a
-- cloth may be cut in.

-- A flaw is marked once and is wherever its cloth is now. It is counted from the free end as it was after the entry
-- named: what standing entries took off since is what it has come nearer to the free end. So a flaw never moves on
-- the cloth, an undone cut puts it back where it was measured, and a flaw on what was cut away is gone by itself.
CREATE TABLE piece_flaw (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  from_ticks INTEGER NOT NULL CHECK (from_ticks >= 0),
  to_ticks INTEGER NOT NULL CHECK (to_ticks <= 16000000000),
  left_ticks INTEGER NOT NULL CHECK (left_ticks >= 0),
  right_ticks INTEGER NOT NULL CHECK (right_ticks <= 1600000),
  after_entry_id INTEGER NOT NULL CHECK (after_entry_id >= 0),
  what TEXT NOT NULL CHECK (length(what) BETWEEN 1 AND 80),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  struck_at TEXT CHECK (struck_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  struck_by INTEGER REFERENCES person (id),
  CHECK (from_ticks < to_ticks),
  CHECK (left_ticks < right_ticks),
  CHECK ((struck_at IS NULL) = (struck_by IS NULL))
) STRICT;
CREATE INDEX piece_flaw_by_piece ON piece_flaw (piece_id) WHERE struck_at IS NULL;
CREATE TRIGGER piece_flaw_stays BEFORE UPDATE OF
  id, piece_id, from_ticks, to_ticks, left_ticks, right_ticks, after_entry_id, what, at, person_id ON piece_flaw
BEGIN SELECT RAISE(ABORT, 'a flaw stays as it was marked'); END;
CREATE TRIGGER piece_flaw_never_goes BEFORE DELETE ON piece_flaw
BEGIN SELECT RAISE(ABORT, 'a flaw is struck out, not removed'); END;

-- The usable width of a piece as somebody measured it again: no width changes without its record.
CREATE TABLE piece_width (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  was_ticks INTEGER NOT NULL,
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 1600000),
  why TEXT NOT NULL DEFAULT '' CHECK (length(why) <= 200),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX piece_width_by_piece ON piece_width (piece_id);
CREATE TRIGGER piece_width_follows BEFORE INSERT ON piece_width
WHEN NEW.was_ticks IS NOT (SELECT usable_width_ticks FROM piece WHERE id = NEW.piece_id)
BEGIN SELECT RAISE(ABORT, 'a measured width follows the width as it is'); END;
CREATE TRIGGER piece_width_never_changes BEFORE UPDATE ON piece_width
BEGIN SELECT RAISE(ABORT, 'a measured width is never changed'); END;
CREATE TRIGGER piece_width_never_goes BEFORE DELETE ON piece_width
BEGIN SELECT RAISE(ABORT, 'a measured width is never removed'); END;
CREATE TRIGGER piece_width_is_recorded BEFORE UPDATE OF usable_width_ticks ON piece
WHEN NEW.usable_width_ticks IS NOT (
  SELECT width_ticks FROM piece_width WHERE piece_id = NEW.id ORDER BY id DESC LIMIT 1)
BEGIN SELECT RAISE(ABORT, 'a width is changed by measuring it again'); END;

-- Where a remnant lay in the piece that it was cut off: from the free end as it was before that request, and from
-- the left edge, so that a flaw in it is known of it too. A length that was split off needs no row: its entries tell.
CREATE TABLE remnant_from (
  piece_id INTEGER PRIMARY KEY REFERENCES piece (id),
  along_ticks INTEGER NOT NULL CHECK (along_ticks BETWEEN 0 AND 16000000000),
  across_ticks INTEGER NOT NULL CHECK (across_ticks BETWEEN 0 AND 1600000)
) STRICT;

ALTER TABLE cloth ADD COLUMN ply_limit INTEGER NOT NULL DEFAULT 1 CHECK (ply_limit BETWEEN 1 AND 24);

-- A lay that several tiers share is entered as a cut each, and a remnant kept beside the strips is as long as the lay:
-- it is no longer than all that its request cut off the piece. All else is as it was: in width, area and cost it is
-- no more than what its own cut took, with all else that was kept of it.
DROP TRIGGER entry_joined_within;
CREATE TRIGGER entry_kept_within AFTER INSERT ON entry
WHEN NEW.kind = 'joined' AND EXISTS (
  SELECT 1 FROM entry AS off
  JOIN piece AS whole ON whole.id = off.piece_id
  JOIN piece AS made ON made.id = NEW.piece_id
  WHERE off.id = NEW.pair_id AND (
    NEW.length_ticks > (SELECT -sum(along.length_ticks) FROM entry AS along
      WHERE along.request_key = NEW.request_key AND along.piece_id = off.piece_id AND along.kind = off.kind
        AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = along.id))
    OR made.usable_width_ticks > whole.usable_width_ticks
    OR EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = off.id)
    OR (SELECT sum(beside.cost_minor) > -off.cost_minor
        OR sum(beside.length_ticks * kept.usable_width_ticks) > -off.length_ticks * whole.usable_width_ticks
      FROM entry AS beside JOIN piece AS kept ON kept.id = beside.piece_id
      WHERE beside.pair_id = off.id)))
BEGIN SELECT RAISE(ABORT, 'what joins the shelf is no more than came off'); END;
