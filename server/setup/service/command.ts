/** What a system runs to serve a book: a program by its whole path, and what it is given. */
export interface ServiceCommand {
  readonly program: string;
  readonly args: readonly string[];
}

/** A file that has a system start Clothroom by itself, and what is to be typed for it and to take it off again. */
export interface ServiceFile {
  readonly path: string;
  readonly text: string;
  readonly encoding: 'utf8' | 'utf16le';
  readonly toStart: readonly string[];
  readonly toLook: readonly string[];
  readonly toRemove: readonly string[];
  /** what else must be seen to on this system, a sentence each */
  readonly notes: readonly string[];
}

/** By which a file is known as ours when it is written anew. */
export const WRITTEN_BY = 'Written by Clothroom, install-service.';

/** By which the engine holds less memory: those of the script "start" in package.json. */
export const ENGINE_FLAGS = ['--max-semi-space-size=4', '--heap-growing-percent=30'] as const;

/** How long the program may take to stop, seconds: the last copy is made then. */
export const STOP_SECONDS = 20;
export const RESTART_SECONDS = 10;

export function escapeXml(text: string): string {
  return text.replace(/[<>&"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
}
