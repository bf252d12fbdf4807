-- Work that was done while the book did not answer, and is entered later.

-- When it was done, by the clock of the device that kept it; NULL where it was entered as it was done.
ALTER TABLE request ADD COLUMN done_at TEXT
CHECK (done_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z' AND done_at < at);

-- Tells this book from others at the same address, so that a device sends what it kept to no other.
ALTER TABLE workroom ADD COLUMN mark TEXT CHECK (mark GLOB '[0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f]');
UPDATE workroom SET mark = lower(hex(randomblob(3)));
