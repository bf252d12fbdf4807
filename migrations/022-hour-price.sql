-- What an hour of work at the dye bench costs, as the workroom says it; the newest counts. Minor units for an hour.

CREATE TABLE hour_price (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 0 AND 1000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

CREATE TRIGGER hour_price_never_changes BEFORE UPDATE ON hour_price
BEGIN SELECT RAISE(ABORT, 'a price of an hour is followed by a newer one, not changed'); END;
CREATE TRIGGER hour_price_never_goes BEFORE DELETE ON hour_price
BEGIN SELECT RAISE(ABORT, 'a price of an hour stays in the book'); END;
CREATE TRIGGER hour_price_never_replaced BEFORE INSERT ON hour_price
WHEN EXISTS (SELECT 1 FROM hour_price WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a price of an hour is followed by a newer one, not replaced'); END;

-- The currency stays as of step 012, and once an hour has a price, too.
DROP TRIGGER workroom_keeps_its_prices;
CREATE TRIGGER workroom_keeps_its_prices BEFORE UPDATE OF currency ON workroom
WHEN NEW.currency <> OLD.currency AND (EXISTS (SELECT 1 FROM dye WHERE price_minor IS NOT NULL)
  OR EXISTS (SELECT 1 FROM supplier_terms)
  OR EXISTS (SELECT 1 FROM offer_price)
  OR EXISTS (SELECT 1 FROM order_terms)
  OR EXISTS (SELECT 1 FROM garment_budget)
  OR EXISTS (SELECT 1 FROM energy_price)
  OR EXISTS (SELECT 1 FROM auxiliary_price)
  OR EXISTS (SELECT 1 FROM hour_price))
BEGIN SELECT RAISE(ABORT, 'the currency stays once dyes, offers, fuel, work or budgets have a price'); END;
