import type { Terms } from '../../../api/calc/terms/terms.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import type { Stage } from './statement-draft.ts';

export const stageNames: Record<Stage, string> = {
  provisional: 'Provisional',
  'second-provisional': 'Second provisional',
  final: 'Final',
  adjustment: 'Adjustment',
};

type Issued = readonly Pick<StatementSummary, 'stage'>[];

/** The stages that a product's next statement may have after those that were issued; advances only as far as the terms know of them. */
export function allowedStages(
  issued: Issued,
  terms?: Pick<Terms, 'provisional' | 'secondProvisional'>,
): Stage[] {
  return stagesAfter(issued).filter(
    (stage) =>
      terms === undefined ||
      ((stage !== 'provisional' || terms.provisional !== null) &&
        (stage !== 'second-provisional' || terms.secondProvisional !== null)),
  );
}

function stagesAfter(issued: Issued): Stage[] {
  const done = issued.map(({ stage }) => stage);
  if (done.includes('final')) return ['adjustment'];
  if (done.includes('second-provisional')) return ['final'];
  return done.includes('provisional') ? ['second-provisional', 'final'] : ['provisional', 'final'];
}

/** The stage that usually comes next: an advance only where the terms know of one. */
export function usualStage(
  issued: Issued,
  terms: Pick<Terms, 'provisional' | 'secondProvisional'> | undefined,
): Stage {
  const allowed = allowedStages(issued);
  if (allowed.includes('provisional') && terms?.provisional != null) return 'provisional';
  if (allowed.includes('second-provisional') && terms?.secondProvisional != null) return 'second-provisional';
  return allowed.at(-1) ?? 'final';
}
