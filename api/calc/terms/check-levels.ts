/** True where each level is above the one before it. */
export function rises(levels: readonly string[]): boolean {
  return levels.every((level, index) => index === 0 || Number(level) > Number(levels[index - 1]));
}
