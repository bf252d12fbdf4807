-- What tells of what happened is added to and stays as it was written. Here the book keeps that of those tables that
-- only the program kept it of, and shuts a way around it: INSERT OR REPLACE takes the older row away without asking
-- the triggers of removal.

CREATE TRIGGER cut_plan_never_replaced BEFORE INSERT ON cut_plan
WHEN EXISTS (SELECT 1 FROM cut_plan WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a cut plan is given up, not replaced'); END;
CREATE TRIGGER cut_lay_never_replaced BEFORE INSERT ON cut_lay
WHEN EXISTS (SELECT 1 FROM cut_lay WHERE id = NEW.id OR (plan_id = NEW.plan_id AND position = NEW.position))
BEGIN SELECT RAISE(ABORT, 'a lay is never replaced'); END;
CREATE TRIGGER cut_lay_tier_never_replaced BEFORE INSERT ON cut_lay_tier
WHEN EXISTS (SELECT 1 FROM cut_lay_tier WHERE lay_id = NEW.lay_id AND tier_id = NEW.tier_id)
BEGIN SELECT RAISE(ABORT, 'what a lay gives is never replaced'); END;
CREATE TRIGGER piece_flaw_never_replaced BEFORE INSERT ON piece_flaw
WHEN EXISTS (SELECT 1 FROM piece_flaw WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a flaw is struck out, not replaced'); END;
CREATE TRIGGER piece_width_never_replaced BEFORE INSERT ON piece_width
WHEN EXISTS (SELECT 1 FROM piece_width WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a measured width is never replaced'); END;
CREATE TRIGGER supplier_terms_never_replaced BEFORE INSERT ON supplier_terms
WHEN EXISTS (SELECT 1 FROM supplier_terms WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'terms are followed by newer ones, not replaced'); END;
CREATE TRIGGER offer_never_replaced BEFORE INSERT ON offer
WHEN EXISTS (SELECT 1 FROM offer WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an offer is followed by a newer one, not replaced'); END;
CREATE TRIGGER offer_price_never_replaced BEFORE INSERT ON offer_price
WHEN EXISTS (SELECT 1 FROM offer_price
  WHERE offer_id = NEW.offer_id AND put_up = NEW.put_up AND length_ticks = NEW.length_ticks)
BEGIN SELECT RAISE(ABORT, 'a price is followed by a newer one, not replaced'); END;
CREATE TRIGGER inspection_never_replaced BEFORE INSERT ON inspection
WHEN EXISTS (SELECT 1 FROM inspection WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an inspection is followed by a newer one, not replaced'); END;

-- Budgets, prices, rules and addresses are followed by newer ones; what was printed was printed.
CREATE TRIGGER garment_budget_never_changes BEFORE UPDATE ON garment_budget
BEGIN SELECT RAISE(ABORT, 'a budget is followed by a newer one, not changed'); END;
CREATE TRIGGER garment_budget_never_goes BEFORE DELETE ON garment_budget
BEGIN SELECT RAISE(ABORT, 'a budget stays in the book'); END;
CREATE TRIGGER garment_budget_never_replaced BEFORE INSERT ON garment_budget
WHEN EXISTS (SELECT 1 FROM garment_budget WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a budget is followed by a newer one, not replaced'); END;
CREATE TRIGGER energy_price_never_changes BEFORE UPDATE ON energy_price
BEGIN SELECT RAISE(ABORT, 'a price of energy is followed by a newer one, not changed'); END;
CREATE TRIGGER energy_price_never_goes BEFORE DELETE ON energy_price
BEGIN SELECT RAISE(ABORT, 'a price of energy stays in the book'); END;
CREATE TRIGGER energy_price_never_replaced BEFORE INSERT ON energy_price
WHEN EXISTS (SELECT 1 FROM energy_price WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a price of energy is followed by a newer one, not replaced'); END;
CREATE TRIGGER auxiliary_price_never_changes BEFORE UPDATE ON auxiliary_price
BEGIN SELECT RAISE(ABORT, 'a price of an auxiliary is followed by a newer one, not changed'); END;
CREATE TRIGGER auxiliary_price_never_goes BEFORE DELETE ON auxiliary_price
BEGIN SELECT RAISE(ABORT, 'a price of an auxiliary stays in the book'); END;
CREATE TRIGGER auxiliary_price_never_replaced BEFORE INSERT ON auxiliary_price
WHEN EXISTS (SELECT 1 FROM auxiliary_price WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a price of an auxiliary is followed by a newer one, not replaced'); END;
CREATE TRIGGER grading_rule_never_changes BEFORE UPDATE ON grading_rule
BEGIN SELECT RAISE(ABORT, 'a rule of grading is followed by a newer one, not changed'); END;
CREATE TRIGGER grading_rule_never_goes BEFORE DELETE ON grading_rule
BEGIN SELECT RAISE(ABORT, 'a rule of grading stays in the book'); END;
CREATE TRIGGER grading_rule_never_replaced BEFORE INSERT ON grading_rule
WHEN EXISTS (SELECT 1 FROM grading_rule WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a rule of grading is followed by a newer one, not replaced'); END;
CREATE TRIGGER label_address_never_changes BEFORE UPDATE ON label_address
BEGIN SELECT RAISE(ABORT, 'an address of the workroom is followed by a newer one, not changed'); END;
CREATE TRIGGER label_address_never_goes BEFORE DELETE ON label_address
BEGIN SELECT RAISE(ABORT, 'an address of the workroom stays in the book'); END;
CREATE TRIGGER label_address_never_replaced BEFORE INSERT ON label_address
WHEN EXISTS (SELECT 1 FROM label_address WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an address of the workroom is followed by a newer one, not replaced'); END;
CREATE TRIGGER label_run_never_changes BEFORE UPDATE ON label_run
BEGIN SELECT RAISE(ABORT, 'a run of labels is never changed'); END;
CREATE TRIGGER label_run_never_goes BEFORE DELETE ON label_run
BEGIN SELECT RAISE(ABORT, 'a run of labels is never removed'); END;
CREATE TRIGGER label_run_never_replaced BEFORE INSERT ON label_run
WHEN EXISTS (SELECT 1 FROM label_run WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a run of labels is never replaced'); END;
CREATE TRIGGER label_never_changes BEFORE UPDATE ON label
BEGIN SELECT RAISE(ABORT, 'a label is never changed'); END;
CREATE TRIGGER label_never_goes BEFORE DELETE ON label
BEGIN SELECT RAISE(ABORT, 'a label is never removed'); END;
CREATE TRIGGER label_never_replaced BEFORE INSERT ON label
WHEN EXISTS (SELECT 1 FROM label WHERE label_run_id = NEW.label_run_id AND position = NEW.position)
BEGIN SELECT RAISE(ABORT, 'a label is never replaced'); END;

-- A code is looked for as it is written in a hurry: d12 is D12.
CREATE INDEX batch_by_code_in_any_case ON batch (code COLLATE NOCASE);
