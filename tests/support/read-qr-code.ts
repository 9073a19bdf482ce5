import jsQR from 'jsqr';

const POINTS_A_MODULE = 4;

/** What a telephone would read from a drawn code, by another program than drew it: painted in points, and decoded by jsQR. */
export function readQrCode({ width, path }: { width: number; path: string }): string | undefined {
  const side = width * POINTS_A_MODULE;
  const points = new Uint8ClampedArray(side * side * 4).fill(255);
  for (const [, x = '', y = ''] of path.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
    for (let row = 0; row < POINTS_A_MODULE; row += 1)
      for (let column = 0; column < POINTS_A_MODULE; column += 1) {
        const at = ((Number(y) * POINTS_A_MODULE + row) * side + Number(x) * POINTS_A_MODULE + column) * 4;
        points.fill(0, at, at + 3);
      }
  return jsQR(points, side, side)?.data;
}
