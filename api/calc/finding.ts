/**
 * What a calculation has to say about its inputs beside its result. Calculations
 * do not throw for real-world data: they return what they can and say the rest.
 *
 * - note: worth knowing, nothing is wrong
 * - warning: the result stands but leans on something doubtful
 * - blocker: the result named by `path` could not be worked out, or must not be used
 */
export interface Finding {
  /** Stable, kebab-case, for example `bead-heavier-than-button`. */
  code: string;
  level: 'note' | 'warning' | 'blocker';
  /** JSON pointer to the input that it speaks of, for example `/beadMg`; '' for the whole. */
  path: string;
  /** One plain sentence for the owner: what was found, its value, what would be right. */
  sentence: string;
}
