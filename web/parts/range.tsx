import type { Measured } from '../../api/calc/measured.ts';
import { measuredText, rangeTexts } from '../lib/format.ts';
import type { EstimateRange } from '../lib/format.ts';

/** An uncertain figure, never without its span: a median with the 10–90 % range, or a value ± two standard uncertainties. */
export function Range(props: ({ range: EstimateRange } | { measured: Measured | null }) & { unit: string }) {
  const { unit } = props;
  if ('measured' in props) return <span className="range">{measuredText(props.measured, unit)}</span>;
  const { median, high } = rangeTexts(props.range, unit);
  const { low } = rangeTexts(props.range, '');
  return (
    <span className="range">
      {median}{' '}
      <span className="range-span">
        (8 in 10: {low} to {high})
      </span>
    </span>
  );
}
