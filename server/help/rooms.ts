import type { Room } from '../web/shell-data.ts';

/** A word of the trade as this book uses it. */
interface Word {
  readonly word: string;
  readonly meaning: string;
}

/** A sum that the pages of a room show, with an example that a pencil can check. */
interface Sum {
  readonly what: string;
  readonly example: string;
}

export interface RoomHelp {
  /** what the room is for, in a sentence */
  readonly lead: string;
  readonly words: readonly Word[];
  readonly sums: readonly Sum[];
}

const word = (name: string, meaning: string): Word => ({ word: name, meaning });
const sum = (what: string, example: string): Sum => ({ what, example });

/** What a page of help says of each room. */
export const ROOM_HELP: Readonly<Record<Room, RoomHelp>> = {
  today: {
    lead: 'What is due, late, short, arriving and in the pot, and what was done lately, with its undo.',
    words: [
      word(
        'Code',
        'What stands on a label: B12 for a bolt, R3 for a remnant, L4 for a lot, G1 for a garment.',
      ),
      word('Undo', 'Takes back what was just done. The ledger keeps both entries.'),
      word('Next thing', 'The step of a garment that has the earliest last day.'),
      word('Keeper, hand', 'A keeper may do everything. A hand cuts, holds and logs, and sees no prices.'),
    ],
    sums: [
      sum(
        '“In 24 days” counts every day on the calendar. Last days of the steps leave out closed days.',
        '25 Dec − 1 Dec = 24 days',
      ),
    ],
  },
  shelf: {
    lead: 'Cloths, shades, lots and pieces: what lies where, and what of it may be taken.',
    words: [
      word('Cloth', 'A kind of fabric: weave, fibres, width, usable width, mass per area, finish.'),
      word('Shade', 'A named colour of a cloth, wanted or had.'),
      word('Lot', 'What was dyed together, by the mill or here. Two lots of one shade may differ.'),
      word('Piece', 'One length on the shelf: a bolt as bought, or a remnant.'),
      word('Remnant, offcut', 'A remnant is kept and has a code. An offcut is not kept.'),
      word('Usable width', 'The width less the selvedges.'),
      word('On hand', 'The length that lies there.'),
      word('Held', 'The length promised to a tier, a part or another use.'),
      word('Needed', 'What open garments will cut of what is free.'),
      word('To spare', 'What may be taken without breaking a promise or a need.'),
      word('Coming', 'On order, in the pot, or planned to be dyed.'),
      word(
        'Recount',
        'Measure the whole piece: the difference is entered, and its cost stays with what is left.',
      ),
      word('Split', 'A length becomes a remnant with a code of its own, of the same lot.'),
      word(
        'Matching lots',
        'Lots close enough in colour to be sewn together; between the two limits somebody looks.',
      ),
      word('At the pleater', 'Sent out to be pleated: held until it is back, then cut off its piece.'),
    ],
    sums: [
      sum('Free is on hand less held.', '12 m − 4.5 m = 7.5 m'),
      sum('To spare is free less needed.', '7.5 m − 6 m = 1.5 m'),
      sum('What a piece cost stays with its metres.', '120.00 × 3 m ÷ 12 m = 30.00'),
    ],
  },
  garments: {
    lead: 'The form, the tiers and parts that hang over it, and the strips and cloth that they need.',
    words: [
      word('Form', 'What the garment hangs over: girths by drop, or hoops.'),
      word('Girth', 'The length once round.'),
      word('Drop', 'Depth below the waist, along the form.'),
      word(
        'Tier',
        'A gathered band. Tiers are 1, 2, 3 from the waist down; the ruffle sewn to tier 2 is 2r, a second one 2r2. Its own name stands beside the label.',
      ),
      word('Part', 'What a garment has besides tiers: a band, a cage, a flounce, pleats, a lining.'),
      word('Fullness', 'Flat length for each length that it is gathered onto: 3 is three times as long.'),
      word('Strip', 'One rectangle to cut.'),
      word(
        'Foundation layer',
        'A layer larger than the form by its ease at every drop; tiers may hang from it.',
      ),
      word(
        'Opening',
        'How deep the garment opens below the waist: rings that it goes through become open bands.',
      ),
      word('Heading', 'What stands above the gathering.'),
      word('Overlap', 'How far a tier covers the next one down.'),
      word('Colour block', 'A run of strips of one shade in a tier’s repeating order.'),
      word('Seam allowance', 'What goes into each seam, at both ends of a strip.'),
      word('Cut size', 'A strip with its allowances, as it is cut.'),
    ],
    sums: [
      sum('Flat length is finished length × fullness.', '2 m × 3 = 6 m'),
      sum('A strip gives its length less two seam allowances.', '147 cm − 2 × 1 cm = 145 cm'),
      sum('Strips of a closed ring, rounded up to whole strips.', '600 cm ÷ 145 cm = 4.14, so 5 strips'),
      sum('Cut depth is finished depth with hem and gathering seam.', '30 cm + 2 cm + 1 cm = 33 cm'),
    ],
  },
  short: {
    lead: 'What open garments need that cannot be cut from what is free, cloth by cloth and shade by shade.',
    words: [
      word('Need', 'Cloth, shade and strips that a garment wants.'),
      word('Short', 'The strips that do not fit into what is free, in matching lots.'),
      word('To get', 'The length to buy or dye for the strips that are short.'),
      word(
        'Lot rule',
        'Whether a shade of a tier must come from one lot, from lots close to each other, or from any.',
      ),
    ],
    sums: [
      sum(
        'Strips of 1.3 m from a remnant of 0.7 m, rounded down: two such remnants give none either.',
        '0.7 m ÷ 1.3 m = 0.54, so 0 strips',
      ),
      sum('Strips side by side: usable width ÷ strip length, rounded down.', '147 cm ÷ 49 cm = 3 strips'),
      sum('Cut lengths for 8 strips, 3 to each: rounded up.', '8 ÷ 3 = 2.67, so 3 cut lengths'),
      sum('Length to get: cut lengths × cut depth, made up to the shop’s step.', '3 × 33 cm = 99 cm'),
    ],
  },
  orders: {
    lead: 'Suppliers, what they offer, what was ordered, and what came.',
    words: [
      word('Offer', 'A supplier’s price for a cloth, a shade or a supply, from a day on.'),
      word('Put-up', 'The length or amount that is sold as one: a bolt of 25 m, a tub of 100 g.'),
      word('Price break', 'A lower price from a certain length on.'),
      word('Cut fee', 'What a supplier takes for each length that is cut off.'),
      word('Added costs', 'Freight, cut fees and tax that you can’t reclaim.'),
      word(
        'Terms',
        'What holds for all of a supplier: discount, cut fees, least order, tax, what may go back.',
      ),
      word('Receipt', 'What came on one day for an order.'),
      word('Basket', 'What is short, shared out to suppliers at the least cost.'),
      word('Claim note', 'What was short or faulty, to send to the supplier.'),
    ],
    sums: [
      sum('Added costs are shared out by price, to the last cent.', '18.00 × 80.00 ÷ 120.00 = 12.00'),
      sum(
        'Defect points for each 100 square metres (four-point system).',
        '12 points × 100 ÷ (40 m × 1.5 m) = 20',
      ),
    ],
  },
  'dye-bench': {
    lead: 'Recipes, swatches and batches. The maker’s label and the safety data sheet go before what stands here.',
    words: [
      word('Recipe', 'What goes in for each mass of cloth, and how it is heated and held.'),
      word('Batch, bath', 'A batch is all that is dyed alike for one shade. A bath is one load of a pot.'),
      word('Owf', 'On weight of fabric: grams of dye for each 100 g of air-dry cloth.'),
      word('Liquor ratio', 'Cloth to water by mass: 1:20 is 20 litres for each kilogram.'),
      word('Dye class', 'What decides which fibres a dye takes on: acid, disperse, reactive, vat and so on.'),
      word(
        'Stock solution',
        'Dye dissolved at a known strength, measured by volume where the scale is too coarse.',
      ),
      word('Swatch', 'A small piece dyed or kept to judge a shade, a recipe or a lot.'),
      word('Graded series', 'Several depths of one colour, told apart step by step.'),
      word('Top-up', 'Water added to a bath; each filling adds to those before.'),
      word(
        'By its label',
        'A paint, transfer or union dye is worked by the label’s own dose, heat and time.',
      ),
      word('Undyed lot', 'A lot of cloth that may be dyed.'),
    ],
    sums: [
      sum('Dye is cloth × owf.', '1500 g × 2 ÷ 100 = 30 g'),
      sum('Water is cloth × liquor ratio.', '1.5 kg × 20 = 30 L'),
      sum('Volume of a stock solution of 1 g in 100 mL.', '0.4 g × 100 mL ÷ 1 g = 40 mL'),
      sum('Mass of cloth is length × width × mass per area.', '10 m × 1.5 m × 30 g/m² = 450 g'),
    ],
  },
  'cutting-table': {
    lead: 'What is cut from which piece, lay by lay, and what is left of it.',
    words: [
      word('1, 1r', 'Tier 1, and the ruffle sewn to it; a second ruffle is 1r2.'),
      word('Cut plan', 'Which strips come off which piece, for one garment or several.'),
      word('Lay', 'One cut length, straight across the cloth, and the strips cut from it.'),
      word('Cut length', 'A length cut straight off a piece.'),
      word('Ply', 'One layer of cloth where several are cut at once.'),
      word('Bound, gap', 'The least cloth that any plan could take, and how far this plan is from it.'),
      word('Hold', 'Promises a length of a piece, so that nobody else cuts it.'),
      word('Flaw', 'A place of a piece that no strip may have.'),
    ],
    sums: [
      sum('Used for strips: their area as a share of what is taken.', '1.974 m² ÷ 2.1 m² = 0.94'),
      sum('What is left of a piece after a cut.', '12 m − 0.99 m = 11.01 m'),
    ],
  },
  setup: {
    lead: 'People, units, network, devices, labels, lists and copies.',
    words: [
      word('Working as', 'Whose name stands beside what is done on this machine.'),
      word('Device', 'A phone or tablet that was let in by a code.'),
      word('Copy', 'The whole book at one moment, proved when it was made.'),
      word('Second place', 'A folder on another drive or machine that copies are carried to.'),
      word('Step', 'Lengths are shown to this: needs rounded up, stock down.'),
    ],
    sums: [
      sum('A yard, exactly.', '36 in × 2.54 cm = 91.44 cm'),
      sum('A need of 0.931 m at a step of 1 cm is rounded up.', '93.1 cm, so 94 cm'),
    ],
  },
};
