/**
 * Published two-level experiments: factors, generators, responses in standard order (the first factor
 * changes fastest), printed effects, and what the author concluded.
 */
export interface PublishedExperiment {
  readonly name: string
  readonly source: string
  readonly factors: readonly string[]
  readonly generators: string
  readonly responses: readonly (number | readonly number[])[]
  /** As printed; letters of our design. */
  readonly effects: Readonly<Record<string, number>>
  /** Decimals printed. */
  readonly decimals: number
  /** Effects the author keeps. */
  readonly kept: readonly string[]
}

export const PUBLISHED_EXPERIMENTS: readonly PublishedExperiment[] = [
  {
    name: 'filtration rate',
    source: 'Montgomery (2013), Design and Analysis of Experiments, example 6.2',
    factors: ['Temperature', 'Pressure', 'Formaldehyde', 'Stirring rate'],
    generators: '',
    responses: [45, 71, 48, 65, 68, 60, 80, 65, 43, 100, 45, 104, 75, 86, 70, 96],
    effects: {
      A: 21.625,
      B: 3.125,
      AB: 0.125,
      C: 9.875,
      AC: -18.125,
      BC: 2.375,
      ABC: 1.875,
      D: 14.625,
      AD: 16.625,
      BD: -0.375,
      ABD: 4.125,
      CD: -1.125,
      ACD: -1.625,
      BCD: -2.625,
      ABCD: 1.375,
    },
    decimals: 3,
    kept: ['A', 'C', 'AC', 'D', 'AD'],
  },
  {
    name: 'pilot plant, each run done twice',
    source: 'Box, Hunter & Hunter (1978), Statistics for Experimenters, tables 10.1 to 10.4',
    factors: ['Temperature', 'Concentration', 'Catalyst'],
    generators: '',
    responses: [
      [59, 61],
      [74, 70],
      [50, 58],
      [69, 67],
      [50, 54],
      [81, 85],
      [46, 44],
      [79, 81],
    ],
    effects: { A: 23, B: -5, AB: 1.5, C: 1.5, AC: 10, BC: 0, ABC: 0.5 },
    decimals: 1,
    kept: ['A', 'B', 'AC'],
  },
  {
    name: 'integrated circuit, half of five factors',
    source: 'Montgomery (2013), Design and Analysis of Experiments, example 8.2',
    factors: ['Aperture', 'Exposure', 'Development', 'Mask', 'Etch'],
    generators: 'E=ABCD',
    responses: [8, 9, 34, 52, 16, 22, 45, 60, 6, 10, 30, 50, 15, 21, 44, 63],
    effects: { A: 11.125, B: 33.875, C: 10.875, D: -0.875, E: 0.625, AB: 6.875 },
    decimals: 3,
    kept: ['A', 'B', 'AB', 'C'],
  },
  {
    name: 'eye focus time, a sixteenth of seven factors',
    source: 'Montgomery (2013), Design and Analysis of Experiments, example 8.7',
    factors: ['Acuity', 'Distance', 'Shape', 'Illumination', 'Size', 'Density', 'Subject'],
    generators: 'D=AB E=AC F=BC G=ABC',
    responses: [85.5, 75.1, 93.2, 145.4, 83.7, 77.6, 95.0, 141.8],
    effects: { A: 20.63, B: 38.38, C: -0.28, D: 28.88, E: -0.28, F: -0.63, G: -2.43 },
    decimals: 2,
    kept: ['A', 'B', 'D'],
  },
]
