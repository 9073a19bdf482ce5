import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { shareEmbedding } from './embedded-font.ts';
import { keptFont, shareWords, type WithReadFont } from './kept-fonts.ts';

/** Source Sans 3 and Source Serif 4 (SIL Open Font License, licences beside the files): both draw all figures equally wide. */
const FILES = {
  regular: 'SourceSans3_400Regular.ttf',
  italic: 'SourceSans3_400Regular_Italic.ttf',
  bold: 'SourceSans3_700Bold.ttf',
  heading: 'SourceSerif4_600SemiBold.ttf',
} as const;

export type FontName = keyof typeof FILES;

/**
 * The folder that holds the fonts: walks up from this file (or from the bundle
 * that it was built into) and from the working directory to the folder that
 * holds `reports/fonts`. Throws when neither has one.
 */
export function findFontsDir(startDirs = [dirname(fileURLToPath(import.meta.url)), process.cwd()]): string {
  for (const start of startDirs) {
    for (let dir = start; ; dir = dirname(dir)) {
      const candidate = join(dir, 'reports', 'fonts');
      if (existsSync(join(candidate, FILES.regular))) return candidate;
      if (dirname(dir) === dir) break;
    }
  }
  throw new Error(
    `The fonts for printing were not found: no folder above ${startDirs.join(' or ')} holds reports/fonts/${FILES.regular}.`,
  );
}

/** Gives the document the four fonts under the names of `FontName`. */
export function registerFonts(doc: PDFKit.PDFDocument, fontsDir: string): void {
  for (const [name, file] of Object.entries(FILES)) {
    doc.registerFont(name, keptFont(join(fontsDir, file)) as unknown as Buffer);
    doc.font(name);
    shareWords(doc);
    shareEmbedding(doc, name as FontName);
  }
}

/** Stand-ins that keep the meaning, for signs that one of the fonts lacks. */
const STAND_INS: Record<string, string> = { '\u2011': '-' };

/** Printed in place of a sign that the fonts cannot draw. */
export const NO_SIGN = '\u25a1';

/**
 * The text as the font can print it: composed (NFC), control characters as
 * spaces, and every sign that the font cannot draw replaced by a box and
 * handed to `onMissing`, so that nothing is lost without a word.
 */
export function printable(
  doc: PDFKit.PDFDocument,
  font: FontName,
  text: string,
  onMissing: (sign: string) => void,
): string {
  doc.font(font);
  const embedded = (doc as unknown as WithReadFont)._font.font;
  let out = '';
  for (const sign of text.normalize('NFC')) {
    if (sign === '\n') out += sign;
    else if (/\p{Cc}/u.test(sign)) out += ' ';
    else if (embedded.hasGlyphForCodePoint(sign.codePointAt(0) ?? 0)) out += sign;
    else if (STAND_INS[sign] !== undefined) out += STAND_INS[sign];
    else {
      onMissing(sign);
      out += NO_SIGN;
    }
  }
  return out;
}
