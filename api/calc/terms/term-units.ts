/** Units a contract may speak in, and the events it counts days from. */

export type GradeUnit = 'g/t' | 'ppm' | 'percent' | 'fineness' | 'oz/t' | 'oz/short ton' | 'oz/long ton';

export type MassUnit = 'kg' | 'g' | 'tonne' | 'short ton' | 'long ton' | 'lb' | 'ozt';

/** Stands among the elements of a clause for the moisture of the weights, in percent. */
export const MOISTURE = 'H2O';

/** What a metal price is quoted for; 'unit' is one percent of a tonne. */
export type PriceUnit = MassUnit | 'unit';

/**
 * The mass a charge is reckoned on. 'settlement' is the settlement dry mass, or the
 * mass of record of bars; 'received' is bars as received, 'moisture' the water.
 */
export type MassBasis = 'gross' | 'wet' | 'moisture' | 'dry' | 'received' | 'settlement';

export type EventName =
  'shipment' | 'arrival' | 'weighing' | 'melting' | 'assay-exchange' | 'price-declaration' | 'statement';
