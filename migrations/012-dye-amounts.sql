-- dye-amounts
-- The workroom's own dyes, what its vessels and balance can do, and how a batch's amounts were asked for.

-- A dye as it stands in the tub. A price is for a mass: 12.50 for 100 g. The strength is that of the label, in
-- hundredths of a percent of the maker's standard.
CREATE TABLE dye (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
  dye_class TEXT NOT NULL CHECK (length(dye_class) BETWEEN 1 AND 60),
  method TEXT NOT NULL DEFAULT '' CHECK (length(method) <= 120),
  strength_bp INTEGER CHECK (strength_bp BETWEEN 1 AND 100000),
  lot TEXT NOT NULL DEFAULT '' CHECK (length(lot) <= 120),
  price_minor INTEGER CHECK (price_minor BETWEEN 0 AND 1000000000),
  price_mg INTEGER CHECK (price_mg BETWEEN 1 AND 10000000000),
  label_notes TEXT NOT NULL DEFAULT '' CHECK (length(label_notes) <= 2000),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  gone_at TEXT CHECK (gone_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  CHECK ((price_minor IS NULL) = (price_mg IS NULL))
) STRICT;

-- The dye of the list that a recipe chose; its name stays with the recipe.
ALTER TABLE recipe_dye ADD COLUMN dye_id INTEGER REFERENCES dye (id);

-- How fast the bath is heated and cooled, in thousandths of a degree a minute, where it is not as usual for the class.
ALTER TABLE recipe ADD COLUMN heat_rate_milli INTEGER CHECK (heat_rate_milli BETWEEN 100 AND 10000);
ALTER TABLE recipe ADD COLUMN cool_rate_milli INTEGER CHECK (cool_rate_milli BETWEEN 100 AND 10000);

ALTER TABLE vessel ADD COLUMN material TEXT NOT NULL DEFAULT '' CHECK (material IN ('', 'stainless steel',
  'enamelled steel', 'aluminium', 'copper', 'glass', 'plastic'));
ALTER TABLE vessel ADD COLUMN empty_mg INTEGER CHECK (empty_mg BETWEEN 1 AND 1000000000);
ALTER TABLE vessel ADD COLUMN heater TEXT NOT NULL DEFAULT '' CHECK (heater IN ('', 'induction', 'electric',
  'immersion', 'gas'));
ALTER TABLE vessel ADD COLUMN heater_watts INTEGER CHECK (heater_watts BETWEEN 1 AND 1000000);

-- The step of the workroom's balance: what it does not resolve is measured from a stock solution.
ALTER TABLE workroom ADD COLUMN balance_mg INTEGER NOT NULL DEFAULT 10 CHECK (balance_mg BETWEEN 1 AND 100000);

-- How the amounts of a batch were asked for, where more than lengths and a vessel was said. scale_mg is the cloth on
-- the scale, which goes before its area; parts are those of unequal baths; stocks are strengths by line.
CREATE TABLE batch_amount (
  batch_id INTEGER PRIMARY KEY REFERENCES batch (id),
  scale_mg INTEGER CHECK (scale_mg BETWEEN 1 AND 10000000000),
  basis TEXT CHECK (basis IN ('oven-dry', 'conditioned')),
  strip_ticks INTEGER CHECK (strip_ticks BETWEEN 1 AND 16000000000),
  parts TEXT NOT NULL CHECK (json_valid(parts)),
  stocks TEXT NOT NULL CHECK (json_valid(stocks)),
  CHECK ((scale_mg IS NULL) = (basis IS NULL))
) STRICT;
CREATE TRIGGER batch_amount_never_changes BEFORE UPDATE ON batch_amount
BEGIN SELECT RAISE(ABORT, 'a batch keeps its plan'); END;
CREATE TRIGGER batch_amount_never_replaced BEFORE INSERT ON batch_amount
WHEN EXISTS (SELECT 1 FROM batch_amount WHERE batch_id = NEW.batch_id)
BEGIN SELECT RAISE(ABORT, 'a batch keeps its plan'); END;
CREATE TRIGGER batch_amount_never_goes BEFORE DELETE ON batch_amount
BEGIN SELECT RAISE(ABORT, 'a batch keeps its plan'); END;

-- The prices of dyes, of what suppliers ask, of fuel and auxiliaries, and budgets keep their meaning too; the tables of
-- the latter are made in later steps.
CREATE TRIGGER workroom_keeps_its_prices BEFORE UPDATE OF currency ON workroom
WHEN NEW.currency <> OLD.currency AND (EXISTS (SELECT 1 FROM dye WHERE price_minor IS NOT NULL)
  OR EXISTS (SELECT 1 FROM supplier_terms)
  OR EXISTS (SELECT 1 FROM offer_price)
  OR EXISTS (SELECT 1 FROM order_terms)
  OR EXISTS (SELECT 1 FROM garment_budget)
  OR EXISTS (SELECT 1 FROM energy_price)
  OR EXISTS (SELECT 1 FROM auxiliary_price))
BEGIN SELECT RAISE(ABORT, 'the currency stays once dyes, offers, fuel or budgets have a price'); END;
