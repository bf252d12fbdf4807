import { randomUUID } from 'node:crypto';
import { Refusal } from '../refusal.ts';
import type { Page } from './page-frame.ts';
import type { Rule } from './rules.ts';

/** A page that answered a form, and the status that it was answered with. */
export interface KeptPage {
  readonly page: Page;
  readonly status: number;
  /** who could send the form, so who may see this */
  readonly rule: Rule;
}

/**
 * Pages that answered a form without saving it. A browser is sent on to them, so that its history holds no page that
 * was reached by POST: Back never asks to resend a form.
 */
export class KeptPages {
  readonly #pages = new Map<string, KeptPage>();

  /** Where the page can be seen from now on. */
  keep(kept: KeptPage): string {
    const [oldest] = this.#pages.keys();
    if (this.#pages.size >= MOST_KEPT && oldest !== undefined) this.#pages.delete(oldest);
    const token = randomUUID();
    this.#pages.set(token, kept);
    return `/forms/${token}`;
  }

  /** @throws {Refusal} unknown once it is no longer kept */
  read(token: string): KeptPage {
    const kept = this.#pages.get(token);
    if (kept) return kept;
    throw new Refusal('unknown', 'This page is no longer kept. Go back to the form and send it again.');
  }
}

/** So many forms may be open at once in a workroom; the one answered longest ago is dropped. */
const MOST_KEPT = 100;
