/** A value with its standard uncertainty u (GUM, JCGM 100:2008), both in the unit the field's name states. */
export interface Measured {
  value: number;
  u: number;
}
