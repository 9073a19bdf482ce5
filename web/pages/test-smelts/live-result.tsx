import { useFormat } from '../../lib/owner.ts';
import { gradeTexts, percentMeasured } from '../../lib/worked-tests.ts';
import type { LiveSmelt } from './live-smelt.ts';

/** The result so far, always in sight while weighing, and what is still to come. */
export function LiveResult(props: { live: LiveSmelt }) {
  const { live } = props;
  const format = useFormat();
  const { result } = live;
  const grades = result === null ? null : gradeTexts(result, format);
  const all = [...live.chargeFindings, ...live.productFindings, ...live.beadFindings];
  const stops = all.filter(({ level }) => level === 'blocker').length;
  const warnings = all.filter(({ level }) => level === 'warning').length;
  const counts = [
    stops === 0 ? '' : `${stops} to stop at`,
    warnings === 0 ? '' : `${warnings} ${warnings === 1 ? 'warning' : 'warnings'}`,
  ].filter((text) => text !== '');
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
            <dd>{percentMeasured(result.leadReturnFrac, format)}</dd>
          </div>
        </dl>
      )}
      {counts.length === 0 ? null : <p className="bench-counts">{counts.join(', ')}: see above.</p>}
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
