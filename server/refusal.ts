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
  'not-let-in': 401,
  'another-person': 401,
  'not-yours': 403,
  'too-many': 429,
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

/** Everything that is wrong, in one refusal that begins with the first. */
export function allInvalid(problems: readonly Problem[]): Refusal {
  return new Refusal('invalid', problems[0]?.message ?? '', problems);
}

/** Refuses all that is wrong at once, and goes on where nothing is. @throws {Refusal} invalid */
export function refuseAny(problems: readonly Problem[]): void {
  if (problems.length > 0) throw allInvalid(problems);
}

/** What the work gives, or null and what is wrong with what was asked; any other refusal goes on. */
export function orProblems<T>(work: () => T): {
  readonly value: T | null;
  readonly problems: readonly Problem[];
} {
  try {
    return { value: work(), problems: [] };
  } catch (error) {
    if (!(error instanceof Refusal) || error.kind !== 'invalid') throw error;
    return { value: null, problems: error.problems };
  }
}

export function conflict(message: string, wayOn: WayOn | null = null): Refusal {
  return new Refusal('conflict', message, undefined, wayOn);
}

/** `what` is a phrase such as "piece B12". */
export function unknown(what: string): Refusal {
  return new Refusal('unknown', `There is no ${what}.`);
}

/** Does what may be refused. A conflict that leads nowhere yet leads where `wayOf` says. */
export function withWayOn<T>(work: () => T, wayOf: () => WayOn | null): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Refusal) || error.kind !== 'conflict' || error.wayOn !== null) throw error;
    const way = wayOf();
    throw way ? conflict(error.message, way) : error;
  }
}
