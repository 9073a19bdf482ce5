/** A list in pieces of a size, for statements that take only so much. */
export function chunksOf<T>(list: readonly T[], size: number): T[][] {
  const chunks: T[][] = [];
  for (let from = 0; from < list.length; from += size) chunks.push(list.slice(from, from + size));
  return chunks;
}
