import type { Season } from '../../api/schemas/mill.ts';
import { ChoiceField } from './choice-field.tsx';

/** Which season a page shows; nothing to choose where there is only one. */
export function SeasonChoice(props: {
  seasons: readonly Season[];
  season: Season;
  choose: (seasonId: string) => void;
}) {
  const { seasons, season, choose } = props;
  if (seasons.length < 2) return null;
  return (
    <div className="fields">
      <ChoiceField
        label="Season"
        value={season.id}
        onChange={choose}
        choices={seasons.map(({ id, name }) => ({ value: id, label: name }))}
      />
    </div>
  );
}
