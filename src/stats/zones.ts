/**
 * Where a point lies on its chart, as a small whole number: 0 on the centre line; 1 to 4 above it
 * (within 1 sigma, within 2, inside the limit, beyond the limit); 5 to 8 the same below.
 */
export type Zone = number

/** How many zones there are. */
export const ZONES = 9

/** Borders of the zones of one point: the value must lie strictly past a border to be beyond it. */
export interface ZoneBorders {
  readonly center: number
  /** Sigma of this point; 0 or more. NaN where the chart has none: then only the side is known. */
  readonly sigma: number
  /** Limits; NaN where there is none on that side. */
  readonly lower: number
  readonly upper: number
}

/**
 * How far past a line a value must lie to count as past it: 1e-9 sigma, and never less than the
 * rounding of the numbers themselves (1e-14 of their size). A limit worked out as 16 + 3·4 and a
 * count of 28 are equal by this, whatever the last bit says; a shift or a change of unit of the
 * whole series does not alter it.
 *
 * @param center Centre line, in the chart's unit.
 * @param sigma  Sigma of a point, >= 0, or NaN where there is none.
 * @returns The tolerance, in the chart's unit.
 *
 * @example
 * lineTolerance(16, 4) // => 4e-9
 */
export function lineTolerance(center: number, sigma: number): number {
  const spread = Number.isNaN(sigma) ? 0 : sigma
  return Math.max(1e-9 * spread, 1e-14 * (Math.abs(center) + 3 * spread))
}

/**
 * The zone of one value.
 *
 * On the centre line is neither side; exactly on a 1- or 2-sigma line or on a limit is inside it.
 *
 * @param value   The point, in the chart's unit; finite.
 * @param borders Centre, sigma and limits of this point, in the same unit.
 * @returns 0 to 8, as `Zone` says.
 *
 * @example
 * zoneOf(28, { center: 16, sigma: 4, lower: 4, upper: 28 }) // => 3
 */
export function zoneOf(value: number, borders: ZoneBorders): Zone {
  const { center, sigma } = borders
  const tolerance = lineTolerance(center, sigma)
  const distance = value - center
  if (distance > tolerance) {
    // Comparisons with NaN are false, so a chart without sigma or limits stays in the first zone.
    if (value > borders.upper + tolerance) return 4
    return 1 + (distance > sigma + tolerance ? 1 : 0) + (distance > 2 * sigma + tolerance ? 1 : 0)
  }
  if (-distance > tolerance) {
    if (value < borders.lower - tolerance) return 8
    return 5 + (-distance > sigma + tolerance ? 1 : 0) + (-distance > 2 * sigma + tolerance ? 1 : 0)
  }
  return 0
}

/** 1 above the centre line, -1 below, 0 on it. */
export function sideOf(zone: Zone): -1 | 0 | 1 {
  return zone === 0 ? 0 : zone < 5 ? 1 : -1
}

/** How far out: 0 on the line, then 1 (within 1 sigma) to 4 (beyond the limit). */
export function reachOf(zone: Zone): number {
  return zone < 5 ? zone : zone - 4
}
