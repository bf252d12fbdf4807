import type { Answer } from '../database/book.ts';
import type { Problem, WayOn } from '../refusal.ts';
import type { Room } from './shell-data.ts';
export interface PageFrame {
  readonly title: string;
  readonly room: Room | null;
  readonly problems?: readonly Problem[];
  readonly wayOn?: WayOn | null;
  /** False where a form that is sent by POST only asks; without it, what is not a GET saves. */
  readonly saves?: boolean;
  /** True where the form goes on under the key that it is drawn with, because the one that was sent is used up. */
  readonly ownKey?: boolean;
  /** The form that this page answers, where it may be sent again: its path, and the key that it was sent under. */
  readonly sentForm?: { readonly path: string; readonly key: string } | null;
  /** What an earlier sending of this form came to. */
  readonly savedBefore?: Answer | null;
}

/** A page: its view under views/, the data the view prints, and what the frame around it says. */
export interface Page extends PageFrame {
  readonly view: string;
  readonly data: object;
}
