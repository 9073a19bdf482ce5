import type { GradeUnit } from '../../api/calc/assay/figures.ts';
import type { OwnerChoices } from './owner.ts';
import { shownUnit, shownValue } from './quantities.ts';

/** The unit in which the owner reads grades, for sentences that a calculation writes. */
export const gradeUnitOf = (owner: OwnerChoices): GradeUnit => ({
  name: shownUnit('gradeGpt', owner),
  gpt: 1 / shownValue('gradeGpt', 1, owner),
});
