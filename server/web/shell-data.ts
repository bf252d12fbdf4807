import type { Problem, WayOn } from '../refusal.ts';

/** The rooms of the house in the order of the navigation; `key` marks the current one, `accessKey` leads to it. */
export const ROOMS = [
  { key: 'today', name: 'Today', href: '/', accessKey: '1' },
  { key: 'shelf', name: 'Shelf', href: '/shelf', accessKey: '2' },
  { key: 'garments', name: 'Garments', href: '/garments', accessKey: '3' },
  { key: 'short', name: 'Short', href: '/short', accessKey: '4' },
  { key: 'orders', name: 'Orders', href: '/orders', accessKey: '5' },
  { key: 'dye-bench', name: 'Dye bench', href: '/dye-bench', accessKey: '6' },
  { key: 'cutting-table', name: 'Cutting table', href: '/cutting-table', accessKey: '7' },
  { key: 'setup', name: 'Setup', href: '/setup', accessKey: '8' },
] as const;

export type Room = (typeof ROOMS)[number]['key'];

export interface PersonName {
  id: number;
  name: string;
}

/** What the request before this page did, told once on top of it. */
export interface Done {
  said: string;
  /** request key of what was done; the Undo form sends it as `undoes` */
  key: string;
  canUndo: boolean;
  /** fresh request key for the Undo form itself */
  undoKey: string;
}

/** What the layout draws around every page. Views see it as `it.shell`. */
export interface Shell {
  /** page title, also its h1 */
  title: string;
  room: Room | null;
  /** path and query of this page, to come back to after "working as" */
  path: string;
  /** the rooms that whoever asks can open */
  rooms: readonly (typeof ROOMS)[number][];
  /** who is signed in, on which device; null where the network is off and nobody signs in */
  signed: {
    /** '' where nobody was chosen */
    readonly name: string;
    readonly device: string;
    readonly isKeeper: boolean;
    /** whether the device is handed back when the work is done */
    readonly canHandBack: boolean;
  } | null;
  /** what a keeper at the machine should see to of the network; '' where all is well */
  notice: string;
  workroomName: string;
  invented: boolean;
  who: PersonName | null;
  /** what the request keys of bench work begin with, so that it is sent as this person's only; '' for nobody */
  keyPrefix: string;
  people: PersonName[];
  done: Done | null;
  /** date and time of the figures as a person reads it */
  asOf: string;
  problems: readonly Problem[];
  /** false where the form only asks, so that nothing could have been saved */
  saves: boolean;
  /** offered with a refused form, e.g. where to see what is left */
  wayOn: WayOn | null;
  /** the form that this page answers; null where none was sent, or its key is used up */
  sentForm: { readonly path: string; readonly key: string } | null;
  /** what this form came to when it was sent before */
  savedBefore: { readonly said: string; readonly location: string } | null;
  /** why nothing is saved any more, until the book was opened again; null where all is well */
  trouble: string | null;
  /** cloths and shades whose needs are still being worked out, so that the page's figures are not all there yet */
  waiting: number;
  /** whether the page is drawn again by itself until they are: not where somebody may be typing */
  drawsAgain: boolean;
  assets: { css: string; js: string; htmx: string; icon: string };
}
