// What the tests use of jsdom. Its published types would bring the browser's globals into the whole program.
declare module 'jsdom' {
  export interface Part {
    querySelector(selector: string): Element | null;
    querySelectorAll(selector: string): Iterable<Element>;
  }

  export interface Element extends Part {
    readonly id: string;
    readonly textContent: string | null;
    readonly name: string;
    readonly tagName: string;
    readonly value: string;
    readonly selected: boolean;
    getAttribute(name: string): string | null;
    hasAttribute(name: string): boolean;
  }

  /** What pages say goes nowhere unless it is listened to. */
  export class VirtualConsole {}

  export class JSDOM {
    constructor(
      html: string,
      options?: {
        readonly url?: string;
        readonly runScripts?: 'outside-only';
        readonly pretendToBeVisual?: boolean;
        readonly virtualConsole?: VirtualConsole;
      },
    );
    static fragment(html: string): Part;
    readonly window: {
      readonly document: Part & { readonly title: string };
      eval(script: string): unknown;
      close(): void;
    };
  }
}
