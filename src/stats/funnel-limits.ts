import { AppError } from '../errors.ts'
import { binomialCdf, binomialQuantile } from './special/binomial.ts'
import { requireFraction, requireLevel, requireNumber } from './special/check.ts'
import { poissonCdf, poissonQuantile } from './special/poisson.ts'

/**
 * Exact control limit of a proportion for a funnel plot, interpolated between counts.
 *
 * With r the smallest count of `P(R ≤ r) > p` and `a = (F(r) − p) / (F(r) − F(r − 1))`, the limit is `(r − a) / n`.
 *
 * @param denominator Count looked at, whole, at least 1.
 * @param target      Proportion of the centre line, 0 to 1.
 * @param p           Lower-tail probability of the limit, 0 to 1 exclusive: 0.001, 0.025, 0.975, 0.999.
 * @returns 0 to 1.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Spiegelhalter (2005), Stat Med 24:1185, appendix A.1.1.
 *
 * @example
 * binomialFunnelLimit(100, 0.05, 0.975) // => 0.09190734402387492
 */
export function binomialFunnelLimit(denominator: number, target: number, p: number): number {
  requireFraction(0, denominator)
  requireNumber('The target', target, 'a share')
  requireLevel(p)
  const r = binomialQuantile(p, denominator, target)
  return Math.min(1, interpolate((k) => binomialCdf(k, denominator, target), r, p) / denominator)
}

/**
 * Exact control limit of a ratio of observed to expected events for a funnel plot, or of a rate by area.
 *
 * As for proportions, from the Poisson distribution with mean `expected · target`.
 *
 * @param expected Expected events, or area; above 0.
 * @param target   Centre line: 1 for a standardised ratio, else a rate; 0 or more.
 * @param p        Lower-tail probability of the limit, 0 to 1 exclusive.
 * @returns In the unit of the target, 0 or more.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Spiegelhalter (2005), Stat Med 24:1185, appendix A.1.2.
 *
 * @example
 * poissonFunnelLimit(5, 1, 0.001) // => 0
 */
export function poissonFunnelLimit(expected: number, target: number, p: number): number {
  requireNumber('The expected number', expected, 'positive')
  requireNumber('The target', target, 'not negative')
  requireLevel(p)
  const mean = expected * target
  if (mean > 1e9) {
    throw new AppError(
      'stats.out_of_range',
      `The target leads to ${mean} events, more than this can count exactly.`,
      'Check that the target is a rate per unit of the expected number or area.',
      { mean },
    )
  }
  return interpolate((k) => poissonCdf(k, mean), poissonQuantile(p, mean), p) / expected
}

function interpolate(cdf: (k: number) => number, start: number, p: number): number {
  let r = start
  // The published rule asks for more than p, the quantile for at least p.
  while (cdf(r) <= p) r++
  const here = cdf(r)
  const before = r === 0 ? 0 : cdf(r - 1)
  return Math.max(0, r - (here - p) / (here - before))
}
