/** `/charges/2/leadG` → `Charges 3, lead`: a pointer as a person reads it, without the unit of its name. */
export function fieldLabel(pointer: string): string {
  const words = pointer
    .split('/')
    .slice(1)
    .map((token) => token.replaceAll('~1', '/').replaceAll('~0', '~'))
    .reduce((label, token) => {
      if (/^\d+$/.test(token)) return `${label} ${Number(token) + 1}`.trim();
      const spoken = token
        .replace(/(?<=[a-z0-9])(?=[A-Z])/g, ' ')
        .toLowerCase()
        .replace(/(?<=.) (frac|kg|g|mg|gpt|ozt|ml|id)$/, '');
      return label === '' ? spoken : `${label}, ${spoken}`;
    }, '');
  return words === '' ? 'The request' : `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** A JSON pointer (RFC 6901) from the steps of a path. */
export function pointerOf(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

/** A given value as it is shown in a sentence: short, and never a whole object. */
export function shownValue(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…"` : text;
}
