import type { File } from './files.ts';
import { stringsOf } from './wording.ts';

// What is wrong with a field is said as "Field: what, what to do". The page sets the field's name before it (as
// `server/web/field-names.ts` reads it off the page), so that a message says what is wrong and what to do.

/** Where a message about a field begins. */
const TOLD = /\b(?:invalid|refuse)\(|\b(?:reason|message):/g;
/** A message that is another's, with words around it, ends as that one does. */
const ENDS_ELSEWHERE = /(?:\$\{[^{}]*\}\.?|\$\{HOW\}|\$\{how\})$/;
/** What somebody can do about a field. */
const TO_DO = new RegExp(
  `\\b(?:${[
    'add|ask|begin|change|check|choose|close|count|dissolve|divide|drop|dye|enter|fill|filled in|give|hold|leave|make',
    'mark|measure|move|name|number|order|paste|plan|print|put|read|reload|save|say|set|start|take|tell|tick|try|type',
    'untick|use|weigh|write|at least|at most|or fewer|or less|or more',
  ].join('|')})\\b`,
  'i',
);

/** The messages of a file of the program, as they are written there. */
export function messagesOf({ text }: File): string[] {
  return [...text.matchAll(TOLD)].flatMap(({ index, 0: opening }) =>
    stringsOf(callFrom(text, index + opening.length))
      .map((string) => string.slice(1, -1))
      .filter((string) => / /.test(string.replace(/\$\{[^}]*\}/g, ''))),
  );
}

/** What stands up to the end of the call or of the property that begins before `from`. */
function callFrom(text: string, from: number): string {
  let depth = 0;
  for (let at = from; at < text.length; at++) {
    const char = text.charAt(at);
    if ('([{'.includes(char)) depth++;
    else if (')]}'.includes(char) && depth-- === 0) return text.slice(from, at);
    else if (char === ';' && depth === 0) return text.slice(from, at);
  }
  return text.slice(from);
}

/** The messages of a file that leave somebody without a thing to do. */
export function errorRule(file: File): string[] {
  if (!/^(server|src)\/.*\.ts$/.test(file.path)) return [];
  return messagesOf(file)
    .filter((message) => /^[A-Z$“]/.test(message) && /\.$/.test(message))
    .filter((message) => !TO_DO.test(message) && !ENDS_ELSEWHERE.test(message))
    .map((message) => `${file.path}: “${message}” says nothing that can be done`);
}
