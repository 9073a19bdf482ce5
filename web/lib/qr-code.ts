import qrcode from 'qrcode-generator';

/** Empty modules around a code that readers need (ISO/IEC 18004:2015, 5.3.8). */
const QUIET = 4;

/**
 * A text as a QR code (ISO/IEC 18004) of middle error correction: the width of the square with its empty border, in
 * modules, and the dark modules as the path of an SVG.
 */
export function qrCode(text: string): { width: number; path: string } {
  const code = qrcode(0, 'M');
  code.addData(text);
  code.make();
  const count = code.getModuleCount();
  const rows = Array.from({ length: count }, (_, row) =>
    Array.from({ length: count }, (__, column) =>
      code.isDark(row, column) ? `M${column + QUIET} ${row + QUIET}h1v1h-1z` : '',
    ).join(''),
  );
  return { width: count + 2 * QUIET, path: rows.join('') };
}
