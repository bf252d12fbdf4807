import type { File } from './files.ts';

/**
 * What the trade does not say, and what is written in its place. Each is looked for in what people read: strings of the
 * program, text of templates and scripts, the README.
 */
export const NOT_SAID: readonly [said: RegExp, write: string][] = [
  [/nothing is written here/i, 'enter a number'],
  [/things? to mend/i, 'Please fix'],
  [/\bin turn with\b/i, 'alternate with'],
  [/finish the repeat/i, 'Round up to a full colour repeat'],
  [/step the shades/i, 'Shift the colours one strip a tier'],
  [/\bby (the )?hand rule\b/i, 'quick estimate'],
  [/(?<!\.)\bCharged\b/, 'Taken from stock'],
  [/strokes? of the knife|(?<!ten )\bstrokes\b(?!One)/i, 'cuts'],
  [/\bdrops to pull\b/i, 'Lengths to cut off'],
  [/strips? (?:in )?a drop\b|'drops'/i, 'cut length; a drop is a depth below the waist'],
  [/\breally taken\b/i, 'Actual length used'],
  [
    /\b(the|this|hatched) rests?\b(?= (is|are) (kept|longer|wider|waste))|keep the rest/i,
    'remnant or offcut',
  ],
  [/\bleft over\b|\bleftover\b(?![_ ]?(dye|length|width))/i, 'remnant, offcut or spare'],
  [/\bways on\b/i, 'What you can do'],
  [/\bmore of it\b/i, 'More'],
  [/\bwhat it comes to\b/i, 'Result'],
  [/\btake care\b/i, 'Note, Warning or Caution'],
  [/weighed otherwise|another length was used|something else happened/i, 'Different weight, length'],
  [/not given back/i, 'Tax you can’t reclaim'],
  [/\bonly marks\b/i, 'Mark as sent'],
  [/\boffer figures\b/i, 'Suggest figures'],
  [/three letters/i, 'Currency code'],
  [/rows without anything|(rows|lines) (left blank )?do not count/i, 'Blank rows are ignored'],
  [/\bmill['’]s lot\b/i, 'Mill lot'],
  [/less than a hundred of its steps/i, '100 × the scale’s smallest reading'],
  [/\bgleams through\b/i, 'grins through'],
  [/dye that (the )?water (has )?spent/i, 'hydrolysed dye'],
  [/\bloose dye\b/i, 'soap off; unfixed dye'],
  [/\blet down to\b/i, 'cool back to'],
  [/shows every difference of the yarn/i, 'barré'],
  [/\bhardly moves\b/i, 'migrates poorly'],
  [/\b(lungs|skin) allergic\b/i, 'sensitiser'],
  [/\botherwise than\b/i, 'deviations'],
  [/as it lies( now)?\b/i, 'air-dry (conditioned)'],
  [/\bof it in the bath\b/i, 'efficiency'],
  [/\blot of the ground\b/i, 'undyed lot'],
  [/\b(to|is|be) dyed? over\b/i, 'overdye'],
  [/\bhangs by\b/i, 'gathering seam allowance'],
  [/edges Deep\b/, 'on the lower edge of'],
  [/\bwho is pregnant\b/i, 'If you are pregnant or nursing'],
  [/somebody new|works here (no longer|again)/i, 'Add a person, Has left, Is back'],
  [/>\s*go on\s*</i, 'Continue'],
  [/what there is for/i, 'Available'],
  [/\bwould cure\b/i, 'Ways to fix it'],
  [/\broad so far\b/i, 'Progress'],
  [/take them in\b|take the whole list back|put the list aside/i, 'Put on the shelf, Undo, Discard'],
  [/what the printer is out by/i, 'Printer offset'],
  [/terms of other times/i, 'Earlier terms'],
  [/on top of the goods/i, 'Added costs'],
  [/must stay as it was/i, 'Must not change'],
  [/\bcut like this\b|\bhow to cut\b/i, 'Layout, Cutting settings'],
  [/name and form (?!of)/i, 'Edit name and form'],
  [/surplus and pleats/i, 'Spare length and pleats'],
  [/write a note|keep the (note|verdict)|record the colour/i, 'Add a note, Save'],
  [/read it this way/i, 'Use this reading'],
  [/>\s*in all\s*<|="in all"/i, 'Total'],
  [/>\s*(asked|got)\s*<|="(asked|got)"/i, 'Wanted, Result, Dose'],
  [/heater, pot, balance/i, 'Equipment'],
  [/give the plan up/i, 'Drop the plan'],
  [/\bnot undone\b/i, 'in force'],
  [/\bas it was (given|last|before)\b/i, 'unchanged'],
];

/** What of a file people read, whole in its own place: strings of a program, text and strings of a template. */
export function readByPeople({ path, text }: File): string[] {
  if (path.endsWith('.md')) return text.split('\n');
  if (!path.endsWith('.eta')) return stringsOf(text);
  const bare = text.replace(/\/\*[\s\S]*?\*\//g, '');
  const code = [...bare.matchAll(/<%([\s\S]*?)%>/g)].flatMap(([, inside = '']) => stringsOf(inside));
  return [...bare.split(/<%[\s\S]*?%>/), ...code];
}

export function stringsOf(code: string): string[] {
  const found = code.matchAll(
    /\/\/[^\n]*|\/\*[\s\S]*?\*\/|'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g,
  );
  return [...found].map(([whole]) => whole).filter((whole) => !whole.startsWith('/'));
}

/** The files whose words people read. */
export function isReadByPeople(path: string): boolean {
  return path === 'README.md' || /^(server|src|views|seed-demo)\/.*\.(ts|eta|js)$/.test(path);
}

/** What a file says that the trade does not, with what to write. */
export function wordingRule(file: File): string[] {
  if (!isReadByPeople(file.path)) return [];
  return readByPeople(file).flatMap((said) =>
    NOT_SAID.filter(([not]) => not.test(said)).map(
      ([not, write]) => `${file.path}: “${not.exec(said)?.[0]}” is not said: ${write}`,
    ),
  );
}
