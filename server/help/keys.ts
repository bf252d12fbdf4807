import { ROOMS } from '../web/shell-data.ts';

/** What one key reaches on every page, with the browser's own keys for access keys beside it. None is needed. */
export const KEYS: readonly { readonly key: string; readonly does: string }[] = [
  ...ROOMS.map(({ name, accessKey }) => ({ key: accessKey, does: `Go to ${name}` })),
  { key: 'c', does: 'Go to the field for a code or a question' },
  { key: 'h', does: 'Open the help of this room' },
  { key: 'z', does: 'Undo, while a message offers it' },
];

/** How browsers have an access key pressed. Source: developer.mozilla.org, "HTML attribute: accesskey", read 2026-12-01. */
export const PRESSED_WITH: readonly { readonly where: string; readonly keys: string }[] = [
  { where: 'Windows and Linux', keys: 'Alt, or Alt and Shift in some browsers' },
  { where: 'macOS', keys: 'Control and Option' },
];
