import type { PayableForm } from './metal-terms.ts';
import type { Terms } from './terms.ts';

/** The element whose assay chooses the step or slides the figure of a form, where it is another than the metal. */
export function chooserOf(form: PayableForm): string | null {
  return form.kind === 'steps' || form.kind === 'sliding' ? (form.by ?? null) : null;
}

/** Elements that are neither paid nor penalized, but whose assay chooses what is paid or charged. */
export function choosingElements({ metals, charges }: Terms): string[] {
  const choosers = metals.map(({ form }) => chooserOf(form)).filter((element) => element !== null);
  const charged = charges.flatMap((charge) =>
    charge.kind === 'by-level' && charge.level.kind === 'grade' ? charge.level.elements : [],
  );
  return [...choosers, ...charged];
}
