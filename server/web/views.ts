import { fileURLToPath } from 'node:url';
import { Eta } from 'eta';
import { countOf, wordFor } from '../kit/words.ts';
import { fieldNames } from './field-names.ts';
import type { Shell } from './shell-data.ts';

const VIEWS = fileURLToPath(new URL('../../views', import.meta.url));
const FILES = new Map<string, string>();

/**
 * Templates say counts by the same words as the pages' data. A page is put together of hundreds of them, so that each
 * makes no more than it uses (they include others, and know no layouts and blocks) and is found by its name at once.
 */
class OurEta extends Eta {
  readonly words = { countOf, wordFor };

  override compileToString = (template: string): string => `const { countOf, wordFor } = this.words;
const include = (view, given) => this.render(view, { ...it, ...given }, options);
const __eta = { res: '', e: this.config.escapeFunction, f: this.config.filterFunction, line: 1 };
try {
${this.compileBody(this.parse(template))}
} catch (error) { this.RuntimeErr(error, ${JSON.stringify(template)}, __eta.line, options.filepath) }
return __eta.res;`;

  override resolvePath = (view: string): string => {
    const file = FILES.get(view) ?? `${VIEWS}${view}.eta`;
    FILES.set(view, file);
    return file;
  };
}

// `debug` makes an error name the template and the line; its cost is a counter a line.
const eta = new OurEta({
  cache: true,
  autoEscape: true,
  autoFilter: true,
  filterFunction: printable,
  debug: true,
});

/**
 * Draws a view without the layout.
 * @param view path under views/ without its suffix, e.g. `shelf/piece/piece`
 * @throws when the template is unknown, or prints something that is not text or a finite number
 */
export function render(view: string, data: object): string {
  return eta.render(`/${view}`, data);
}

/** Draws a whole page: the view, then the layout around it. Both see `data` and `shell`. */
export function renderPage(view: string, data: object, shell: Shell): string {
  return renderLayout(render(view, { ...data, shell }), shell);
}

/** Draws the layout around a view that is drawn already. */
export function renderLayout(body: string, shell: Shell): string {
  const names = shell.problems.length > 0 ? fieldNames(body) : new Map<string, string>();
  return render('layout', { shell, body, names });
}

// A missing value must fail a test, never print "undefined" on somebody's cut list.
function printable(value: unknown): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'number' && Number.isFinite(value)) return String(value);
  throw new TypeError(`a template may print text or a finite number, not ${describe(value)}`);
}

function describe(value: unknown): string {
  return typeof value === 'object' && value !== null ? 'an object' : String(value);
}
