import qrcode from 'qrcode-generator';

/** A code that a phone reads (ISO/IEC 18004), as a path over a square of `modules` by `modules`. */
export interface CodePicture {
  readonly modules: number;
  readonly path: string;
}

/** What the alphanumeric mode of the standard writes in five and a half bits a letter. */
const ALPHANUMERIC = /^[0-9A-Z $%*+\-./:]*$/;

/** Draws an address at level M, which bears an eighth of the code being smudged, in the smallest version it fits. */
export function drawCode(text: string): CodePicture {
  const code = qrcode(0, 'M');
  code.addData(text, ALPHANUMERIC.test(text) ? 'Alphanumeric' : 'Byte');
  code.make();
  const modules = code.getModuleCount();
  const runs: string[] = [];
  for (let row = 0; row < modules; row += 1) {
    for (let from = 0; from < modules; from += 1) {
      if (!code.isDark(row, from)) continue;
      let to = from + 1;
      while (to < modules && code.isDark(row, to)) to += 1;
      runs.push(`M${from} ${row}h${to - from}v1h${from - to}z`);
      from = to;
    }
  }
  return { modules, path: runs.join('') };
}
