import type { Measured } from '../measured.ts';

/** A balance as its owner knows it. */
export interface Balance {
  name: string;
  /** Smallest step of the display d, in g. */
  readabilityG: number;
  /** Standard deviation of repeated weighings of one thing, in g; 0 if it never shows. */
  repeatabilityG: number;
}

/**
 * Standard uncertainty of one weighing, in g: u² = d²/6 + s². A weighing is a difference of two readings
 * (tare and load), each rounded to ±d/2 with rectangular distribution, u = d/√12 (JCGM 100:2008, F.2.2.1),
 * so together d/√6; s is the repeatability of the balance.
 */
export function weighingUncertaintyG(balance: Balance): number {
  return Math.hypot(balance.readabilityG / Math.sqrt(6), balance.repeatabilityG);
}

/** A mass in g with the uncertainty of its weighing. */
export function weighedG({ massG, balance }: { massG: number; balance: Balance }): Measured {
  return { value: massG, u: weighingUncertaintyG(balance) };
}

/** A mass in mg with the uncertainty of its weighing. */
export function weighedMg({ massMg, balance }: { massMg: number; balance: Balance }): Measured {
  return { value: massMg, u: 1000 * weighingUncertaintyG(balance) };
}
