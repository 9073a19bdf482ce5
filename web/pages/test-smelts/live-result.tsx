import { useFormat } from '../../lib/owner.ts';
import { gradeTexts, percentMeasured } from '../../lib/worked-tests.ts';
import type { LiveSmelt } from './live-smelt.ts';

const notYet = 'not yet';

/** What the warnings so far are, in words; '' where there are none. */
function countsText(live: LiveSmelt): string {
  const all = [
    ...(live.melted ? [] : live.foreseen),
    ...live.chargeFindings,
    ...live.productFindings,
    ...live.beadFindings,
  ];
  const stops = all.filter(({ level }) => level === 'blocker').length;
  const warnings = all.filter(({ level }) => level === 'warning').length;
  return [
    stops === 0 ? '' : `${stops} to stop at`,
    warnings === 0 ? '' : `${warnings} ${warnings === 1 ? 'warning' : 'warnings'}`,
  ]
    .filter((text) => text !== '')
    .join(', ');
}

/** Brings the gravest finding of the form into sight. */
function showGravest(): void {
  // What is folded away has no place to scroll to.
  const shown = (level: string): Element | undefined =>
    [...document.querySelectorAll(`.form .finding-${level}`)].find((finding) => finding.checkVisibility());
  (shown('blocker') ?? shown('warning'))?.scrollIntoView({ block: 'center' });
}

/** The result so far, always in sight while weighing. */
export function LiveResult(props: { live: LiveSmelt }) {
  const { live } = props;
  const format = useFormat();
  const { result } = live;
  const grades = result === null ? null : gradeTexts(result, format, notYet);
  const counts = countsText(live);
  return (
    <section className="bench-result" aria-label="Result so far">
      {result === null || grades === null ? (
        <p>The result shows here once the sample mass is typed and both balances are named.</p>
      ) : (
        <dl>
          <div>
            <dt>Gold</dt>
            <dd>{grades.gold}</dd>
          </div>
          <div>
            <dt>Silver</dt>
            <dd>{grades.silver}</dd>
          </div>
          <div>
            <dt>Lead return</dt>
            <dd>{percentMeasured(result.leadReturnFrac, format, notYet)}</dd>
          </div>
        </dl>
      )}
      {counts === '' ? null : (
        <button type="button" className="plain bench-counts" onClick={showGravest}>
          {counts}: show
        </button>
      )}
    </section>
  );
}

/** What is not weighed yet and what it would tell. */
export function ToCome(props: { toCome: readonly string[] }) {
  const { toCome } = props;
  if (toCome.length === 0) return null;
  return (
    <>
      <h3>Still to come</h3>
      <p>You can save now and weigh these in later.</p>
      <ul>
        {toCome.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </>
  );
}
