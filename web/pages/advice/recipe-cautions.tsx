import { cautionsFor } from '../../../api/calc/smelting/cautions.ts';
import type { MineralShare } from '../../../api/calc/smelting/minerals.ts';
import type { ReagentMasses } from '../../../api/calc/smelting/oxygen-balance.ts';
import { isSulfide } from '../../../api/calc/smelting/oxygen-balance.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { Cautions } from '../../parts/cautions.tsx';

/** The cautions that a recipe brings with it for a lot. */
export function RecipeCautions(props: {
  roast: boolean;
  reagents: ReagentMasses;
  minerals: readonly MineralShare[];
}) {
  const { roast, reagents, minerals } = props;
  const has = (reagent: Reagent): boolean => (reagents[reagent] ?? 0) > 0;
  const cautions = cautionsFor({
    roast,
    arsenopyrite: minerals.some(({ mineral, massFrac }) => mineral === 'arsenopyrite' && massFrac > 0),
    sulfidesInMelt: !roast && minerals.some((share) => isSulfide(share) && share.massFrac > 0),
    nitre: has('nitre'),
    reducers: has('flour') || has('charcoal'),
    lead: true,
    nitricAcid: false,
    mercury: false,
    fluorspar: has('fluorspar'),
  });
  return <Cautions cautions={cautions.map(({ title, text }) => `${title}. ${text}`)} />;
}
