import type { Lot } from '../../../api/schemas/lot.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { reagentByName } from '../../../api/calc/smelting/reagents.ts';
import { cautionsFor } from '../../../api/calc/smelting/cautions.ts';
import { Cautions } from '../../parts/cautions.tsx';
import { Notice } from '../../parts/notice.tsx';

/** What a test smelt can do to whoever makes it: the short of it in sight, all of it to unfold. */
export function BenchCautions(props: {
  lot: Pick<Lot, 'minerals'> | null;
  roasted: boolean;
  /** The supplies that are in the charge. */
  reagents: readonly Pick<Supply, 'name'>[];
}) {
  const { lot, roasted, reagents } = props;
  const names = reagents.map(({ name }) => reagentByName(name));
  const arsenopyrite = lot?.minerals.some(({ mineral }) => mineral === 'arsenopyrite') === true;
  const cautions = cautionsFor({
    roast: roasted,
    arsenopyrite,
    nitre: names.includes('nitre'),
    reducers: names.includes('flour') || names.includes('charcoal'),
    lead: true,
    nitricAcid: true,
    mercury: false,
    fluorspar: names.includes('fluorspar'),
  });
  return (
    <>
      <Notice level="caution">
        {arsenopyrite
          ? 'This lot holds arsenopyrite: its fume is a deadly poison, so do not roast it without professional control. '
          : ''}
        Lead fume: extraction, gloves, no food or smoke. Molten metal: dry, preheated moulds, face shield, no
        water. Nitric acid: acid into water, brown fumes are poison. Never heat amalgam in the open.
      </Notice>
      <details>
        <summary>All cautions for this test</summary>
        <Cautions cautions={cautions.map(({ title, text }) => `${title}. ${text}`)} />
      </details>
    </>
  );
}
