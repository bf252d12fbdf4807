import type { Bath } from '../../src/bath.ts';
import type { Caution } from '../../src/cautions.ts';
import type { Warning } from '../../src/dye-advice.ts';
import { showLength, showSize, type Units } from '../../src/length-show.ts';
import { showMass, showMassPerArea } from '../../src/mass.ts';
import { fillMl } from '../../src/vessel.ts';
import { showVolume } from '../../src/volume.ts';
import { showPercent } from '../../src/whole.ts';
import { piecePath } from '../shelf/address.ts';
import type { Card } from './card.ts';
import { type Figure, figuresOf, sayForm } from './recipe-figures.ts';
import { recipePath } from './recipe-making.ts';
import { showUl } from './volumes.ts';

/** A card in words. Amounts are grams and millilitres for every reader: recipes and balances are metric. */
export interface ShownCard {
  readonly recipe: { readonly name: string; readonly href: string };
  readonly cautions: readonly Caution[];
  readonly warnings: readonly Warning[];
  readonly pieces: readonly ShownPiece[];
  readonly mass: string;
  /** the mass in pounds where the reader reads in yards, else '' */
  readonly massInPounds: string;
  /** '' where all of the cloth takes the dye */
  readonly dyedShare: string;
  readonly expected: string;
  readonly shrinkage: string;
  readonly bathVolume: string;
  readonly baths: {
    readonly count: number;
    readonly each: string;
    readonly mass: string;
    readonly vessel: string;
    readonly fill: string;
  };
  readonly lines: readonly ShownLine[];
  readonly figures: readonly Figure[];
}

export interface ShownPiece {
  readonly code: string;
  readonly href: string;
  readonly cloth: string;
  readonly lot: string;
  readonly length: string;
  readonly width: string;
  readonly massPerArea: string;
  readonly mass: string;
  /** the length that goes into each bath */
  readonly perBath: string;
  readonly expected: string;
}

export interface ShownLine {
  readonly name: string;
  readonly part: 'dye' | 'auxiliary' | 'water';
  readonly asked: string;
  readonly perBath: string;
  /** the volume to measure out, where it is a liquid; else '' */
  readonly perBathVolume: string;
  readonly inAll: string;
}

export function showCard(card: Card, units: Units): ShownCard {
  const { recipe, baths, vessel } = card;
  const one = baths[0] ?? card.bath;
  const imperial = units.system === 'imperial';
  return {
    recipe: { name: `${recipe.name}, version ${recipe.version}`, href: recipePath(recipe.id) },
    cautions: card.cautions,
    warnings: card.warnings,
    pieces: card.pieces.map((piece) => shownPiece(piece, card, units)),
    mass: grams(card.massMg),
    massInPounds: imperial ? showMass(card.massMg, 'imperial', 'near') : '',
    dyedShare: card.dyedBp === 10_000 ? '' : showPercent(card.dyedBp),
    expected: showLength(
      card.pieces.reduce((sum, piece) => sum + piece.expectedTicks, 0),
      units,
      'down',
    ),
    shrinkage: showPercent(card.shrinkageBp),
    bathVolume: showUl(card.bath.volumeUl),
    baths: {
      count: baths.length,
      each: showUl(one.volumeUl),
      mass: grams(one.massMg),
      vessel: `${vessel.name}, ${showVolume(vessel.volumeMl, 'near')}`,
      fill: sayFill(card),
    },
    lines: linesOf(card.bath, one),
    figures: figuresOf(recipe),
  };
}

function shownPiece(piece: Card['pieces'][number], card: Card, units: Units): ShownPiece {
  const perArea = units.system === 'imperial' ? 'oz/yd²' : 'g/m²';
  return {
    code: piece.code,
    href: piecePath(piece.code),
    cloth: piece.cloth,
    lot: piece.lot,
    length: showLength(piece.lengthTicks, units, 'near'),
    width: showSize(piece.widthTicks, units, 'near'),
    massPerArea: showMassPerArea(piece.massPerAreaMgM2, perArea, 'near'),
    mass: grams(piece.massMg),
    perBath: showLength(Math.round(piece.lengthTicks / card.baths.length), units, 'near'),
    expected: showLength(piece.expectedTicks, units, 'down'),
  };
}

function sayFill({ vessel, fillMl: holds, recipe }: Card): string {
  const boils = holds === fillMl(vessel.volumeMl, 100);
  return `At ${recipe.temperatureC} °C it is filled to ${showVolume(holds, 'down')} at most, cloth included: ${boils ? 'two thirds' : 'three quarters'} of it (common practice).`;
}

function linesOf(whole: Bath, one: Bath): ShownLine[] {
  const lines = whole.lines.map((line, place): ShownLine => {
    const share = one.lines[place] ?? line;
    return {
      name: line.kind && line.form ? sayForm({ ...line, kind: line.kind, form: line.form }) : line.name,
      part: line.part,
      asked: line.asked,
      perBath: grams(share.massMg),
      perBathVolume: share.volumeUl === undefined ? '' : showUl(share.volumeUl),
      inAll: grams(line.massMg),
    };
  });
  const water: ShownLine = {
    name: 'Fresh water',
    part: 'water',
    asked: lines.some(({ perBathVolume }) => perBathVolume !== '') ? 'bath less the liquids' : 'the bath',
    perBath: showUl(one.freshWaterUl),
    perBathVolume: '',
    inAll: showUl(whole.freshWaterUl),
  };
  return [...lines, water];
}

function grams(massMg: number): string {
  return showMass(massMg, 'metric', 'near');
}
