/** What is wrong with one field; an empty field name means the form as a whole. */
export interface Problem {
  readonly field: string;
  readonly message: string;
}

/** Every kind of refusal and its HTTP status. Anything that is not a Refusal is an internal error. */
export const STATUS = {
  invalid: 422,
  conflict: 409,
  unknown: 404,
  forbidden: 403,
  misdirected: 421,
  'too-large': 413,
  unsupported: 415,
  malformed: 400,
  'not-saved': 503,
  internal: 500,
} as const;

export type RefusalKind = keyof typeof STATUS;

/** A way on that is offered with a refusal: a link in plain words. */
export interface WayOn {
  readonly text: string;
  readonly href: string;
}

/** Something was asked that cannot be done; the message is a sentence for the person who asked. */
export class Refusal extends Error {
  readonly kind: RefusalKind;
  readonly problems: readonly Problem[];
  readonly wayOn: WayOn | null;

  constructor(
    kind: RefusalKind,
    message: string,
    problems: readonly Problem[] = [{ field: '', message }],
    wayOn: WayOn | null = null,
  ) {
    super(message);
    this.name = 'Refusal';
    this.kind = kind;
    this.problems = problems;
    this.wayOn = wayOn;
  }

  get status(): number {
    return STATUS[this.kind];
  }
}

export function invalid(field: string, message: string): Refusal {
  return new Refusal('invalid', message, [{ field, message }]);
}

export function conflict(message: string, wayOn: WayOn | null = null): Refusal {
  return new Refusal('conflict', message, undefined, wayOn);
}

/** `what` is a phrase such as "piece B12". */
export function unknown(what: string): Refusal {
  return new Refusal('unknown', `There is no ${what}.`);
}
