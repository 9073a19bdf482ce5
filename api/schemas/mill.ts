import { z } from 'zod';
import { currency, decimal, id, isoDate, moistureFrac, name, text, version } from './fields.ts';

export const feedUnits = ['t', 'short ton', 'm3', 'yd3', 'loader'] as const;

export const millSettings = z.object({
  name: name(),
  address: text(500).default(''),
  currency,
  massUnit: z.enum(['kg', 'lb']),
  metalUnit: z.enum(['g', 'ozt']),
  gradeUnit: z.enum(['g/t', 'oz/short ton']),
  temperatureUnit: z.enum(['°C', '°F']),
  paper: z.enum(['A4', 'Letter']),
  importDateOrder: z.enum(['iso', 'day-month-year', 'month-day-year']),
  decimalComma: z.boolean(),
  /** What the scale that charges are weighed out on can show; charge sheets are rounded to it. */
  weighingStepG: decimal({ above: 0, max: 1000 }).default('1'),
  /** What a day's feed is counted in, what one of it weighs as it comes, and its moisture. */
  feedUnit: z.enum(feedUnits).default('t'),
  feedTonnesPerUnit: decimal({ above: 0, max: 1000 }).default('1'),
  feedMoistureFrac: moistureFrac.default('0'),
  /** Standard uncertainties of the scales that lots and bars are weighed on. */
  lotScaleUncertaintyFrac: decimal({ min: 0, below: 1 }).default('0.005'),
  barScaleUncertaintyG: decimal({ min: 0, max: 1000 }).default('0.05'),
});
export const mill = millSettings.extend({ isDemo: z.boolean(), version });
export const millChange = millSettings.extend({ version });
export type Mill = z.infer<typeof mill>;

const seasonFields = z.object({ name: name(), startsOn: isoDate, endsOn: isoDate });
const inOrder = (season: { startsOn: string; endsOn: string }) => season.endsOn >= season.startsOn;
const order = { path: ['endsOn'], error: 'must not be before the first day of the season' };

export const newSeason = seasonFields.refine(inOrder, order);
export const seasonChange = seasonFields.extend({ version }).refine(inOrder, order);
export const season = seasonFields.extend({ id, version });
export type Season = z.infer<typeof season>;
