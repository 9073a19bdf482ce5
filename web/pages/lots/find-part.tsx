import { TextField } from '../../parts/text-field.tsx';
import type { PartChoices } from './part-choices.ts';

/** Finds lots that are not among the newest, to be chosen from the list beside. */
export function FindPart({ find }: Pick<PartChoices, 'find'>) {
  if (find === null) return null;
  return (
    <TextField
      label="Find a lot"
      hint="Part of its code or description: what fits is added to the choices."
      maxLength={120}
      value={find.typed}
      onChange={find.type}
    />
  );
}
