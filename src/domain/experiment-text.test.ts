import { describe, expect, it } from 'vitest'
import { PUBLISHED_EXPERIMENTS } from '../../tests/reference/factorial-experiments.ts'
import { experiment, factor, factors, run, runsOf } from '../../tests/support/experiment-records.ts'
import { experimentFinding } from './experiment-finding.ts'
import type { Experiment, ExperimentFactor, ExperimentRun } from './experiment-record.ts'
import { type ExperimentText, experimentText } from './experiment-text.ts'
import { differenceText, responseText, runList, sizeText } from './experiment-words.ts'

const textOf = (own: Partial<Experiment>, given: ExperimentFactor[], runs: ExperimentRun[]) =>
  experimentText(experimentFinding(experiment(own), given, runs))
const all = (text: ExperimentText) =>
  [text.headline, ...text.sentences, ...text.predictions, text.next, ...text.limits].join('\n')

const [filtration, plant, , eye] = PUBLISHED_EXPERIMENTS

describe('the filtration rate (Montgomery 2013, example 6.2)', () => {
  const names = factors(...filtration!.factors)
  const runs = runsOf(4, '', filtration!.responses)
  const text = textOf({ better: 'up', response: 'the rate', unitLabel: 'gal/h' }, names, runs)

  it('names what stands out: temperature, stirring, and two pairs', () => {
    expect(text.headline).toBe('4 of 15 effects stand out from chance.')
    expect(text.sentences[0]).toBe(
      'Temperature: with “on” in place of “off”, the rate was 21.6 gal/h higher on average, the better way. The runs fit anything from 7.93 gal/h to 35.3 gal/h higher (95 % for all 15 effects together). How much it does depends on Formaldehyde and Stirring rate.',
    )
    expect(text.sentences).toContain(
      'Temperature and Formaldehyde depend on each other. With “off”, taking “on” in place of “off” made the rate 39.8 gal/h higher; with “on”, 3.5 gal/h higher. Read the two together, not one by one.',
    )
  })

  it('says what may matter, and what shows nothing without saying that it does nothing', () => {
    expect(text.sentences.join('\n')).toContain('May matter: Formaldehyde (9.88 gal/h higher).')
    expect(text.sentences).toContain(
      'Nothing shows for Pressure. An effect up to about 13.7 gal/h could hide in the scatter of these runs, so this does not show that it does nothing.',
    )
  })

  it('says what to confirm next, and that it may come out smaller', () => {
    expect(text.next).toBe(
      'Try this in a test of change: “on” for Temperature, “off” for Formaldehyde and “on” for Stirring rate. Expect about 101 gal/h. What is picked because it looked large often comes out smaller the second time.',
    )
  })

  it('says what it rests on', () => {
    expect(text.limits[0]).toContain('small effects among themselves')
    expect(text.limits.join('\n')).toContain('in these days and this place')
    expect(text.limits.at(-1)).toBe(
      'Only the rate was looked at. What else the changes did, these figures do not show.',
    )
  })

  it('chooses no level where no way is better', () => {
    const plain = textOf({ better: null, unitLabel: '' }, names, runs)
    expect(plain.next).toBe(
      'Choose the way that suits, and confirm it in a test of change with a prediction.',
    )
    expect(plain.sentences[0]).toContain('21.6 higher on average. The runs fit anything')
  })
})

describe('predictions', () => {
  const runs = runsOf(3, '', plant!.responses)
  const names = [20, 5, 0].map((expected, i) =>
    factor(i + 1, ['Heat', 'Strength', 'Catalyst'][i]!, { expected }),
  )

  it('are set against what came out, each in its own words', () => {
    expect(textOf({ unitLabel: '' }, names, runs).predictions).toEqual([
      'Heat: the team said 20 higher. The runs gave 23 higher, which fits.',
      'Strength: the team said 5 higher. The runs gave 5 lower, which does not fit.',
      'Catalyst: the team said no difference. The runs fit that, to within 5.05. That is on average: it depends on Heat.',
    ])
  })

  it('that no effect fits as well are too little to tell', () => {
    const quiet = runsOf(3, '', [10, 12, 11, 9, 12, 10.5, 9.2, 11.3])
    const text = textOf({}, [factor(1, 'Card', { expected: -1 }), ...names.slice(1)], quiet)
    expect(text.predictions[0]).toMatch(
      /^Card: the team said 1 minutes lower\. The runs gave .*\. That fits, but so does no difference: too little to tell\.$/,
    )
  })

  it('say when pairs are mixed in', () => {
    const given = factors(...eye!.factors).map((f) => ({ ...f, expected: 20 }))
    const text = textOf(
      { generators: eye!.generators },
      given,
      runsOf(7, eye!.generators, eye!.responses),
    )
    expect(text.predictions[0]).toContain('which fits (if the pairs mixed with it play no part).')
    expect(text.predictions[2]).toContain(
      'which does not fit (if the pairs mixed with it play no part).',
    )
  })
})

describe('two changes that depend on each other', () => {
  const runs = runsOf(2, '', [
    [140, 143],
    [100, 103],
    [122, 125],
    [103, 100],
  ])
  const time = { responseKind: 'duration', response: 'the time', better: 'down' } as const
  const given = [
    factor(1, 'Box', { low: 'as it comes', high: 'sorted' }),
    factor(2, 'List', { low: 'on the wall', high: 'read aloud' }),
  ]

  it('are told together, and each says on what it depends', () => {
    const text = textOf({ ...time, replicates: 2 }, given, runs)
    expect(text.headline).toBe('These stand out from chance: Box; List; Box with List.')
    expect(text.sentences[0]).toContain('31 seconds shorter on average, the better way.')
    expect(text.sentences[0]).toMatch(/How much it does depends on List\.$/)
    expect(text.sentences).toContain(
      'Box and List depend on each other. With “on the wall”, taking “sorted” in place of “as it comes” made the time 40 seconds shorter; with “read aloud”, 22 seconds shorter. Read the two together, not one by one.',
    )
  })
})

describe('what a fraction mixes (Montgomery 2013, example 8.7)', () => {
  const text = textOf(
    { generators: eye!.generators },
    factors(...eye!.factors),
    runsOf(7, eye!.generators, eye!.responses),
  )

  it('is said with every effect that stands out', () => {
    expect(text.sentences[0]).toBe(
      'Distance, or a pair that looks the same in these runs (Acuity with Illumination; Shape with Density; Size with Subject): the time of the round was 38.4 minutes higher with “on” in place of “off”. The runs cannot say which of them did it.',
    )
    expect(text.headline).toContain('Distance (or a pair mixed with it); Illumination')
    expect(text.next).toContain('keep apart what these runs mix')
    expect(text.limits.join('\n')).toContain('Not every combination was run.')
  })

  it('is said of pairs as well', () => {
    const runs = runsOf(4, 'D=ABC', [10, 30, 30.2, 10.1, 30.1, 10.2, 10, 30.3])
    const pairs = textOf({ generators: 'D=ABC' }, factors('A', 'B', 'C', 'D'), runs)
    expect(all(pairs)).not.toContain('undefined')
    const half = textOf(
      { generators: 'D=ABC' },
      factors('A', 'B', 'C', 'D'),
      runsOf(4, 'D=ABC', [30, 10.2, 10.1, 30.3, 30.1, 10, 10.3, 30.2]),
    )
    expect(half.sentences[0]).toMatch(
      /^One of these pairs, or several together, moved .*: A with B; C with D\./,
    )
  })
})

describe('too little to tell', () => {
  const two = factors('Card', 'Tray')

  it('before the last run is in', () => {
    const runs = [run(1, { response: 1 }), run(2), run(3), run(4)]
    expect(textOf({}, two, runs)).toMatchObject({
      headline: '1 of 4 runs are in.',
      next: 'Still to do: runs 2 to 4.',
    })
    expect(
      textOf(
        {},
        two,
        runs.map((r) => ({ ...r, response: r.position === 4 ? null : 1 })),
      ).next,
    ).toBe('Still to do: run 4.')
  })

  it('when a combination is lost', () => {
    const lost = runsOf(2, '', [1, 2, 3, 4]).map((r) =>
      r.position < 3 ? { ...r, leftOutReason: 'Spilt.' } : r,
    )
    const text = textOf({}, two, lost)
    expect(text.headline).toBe('Too little to tell: a combination has no response that counts.')
    expect(text.sentences[0]).toContain('Runs 1, 2 are left out')
    expect(
      textOf(
        {},
        two,
        lost.map((r) => (r.position === 2 ? { ...r, leftOutReason: null } : r)),
      ).sentences[0],
    ).toContain('Run 1 is left out')
  })

  it('when every run came out the same', () => {
    const text = textOf({}, two, runsOf(2, '', [5, 5, 5, 5]))
    expect(text.headline).toBe('Too little to tell: every run came out the same.')
    expect(text.sentences[0]).toContain('All 4 runs gave 5 minutes.')
  })

  it('when nothing stands out', () => {
    const text = textOf({}, two, runsOf(2, '', [5, 6, 4, 5.5]))
    expect(text.headline).toBe('Too little to tell: nothing stands out from chance.')
    expect(text.sentences[0]).toMatch(
      /^Nothing shows for Card and Tray\. .* that they do nothing\.$/,
    )
    expect(text.next).toBe('Take ways that lie further apart, more repeats, or other changes.')
    expect(text.limits[0]).toContain('judged from 3 effects only')
  })

  it('when nothing scatters, with repeats and without', () => {
    const repeats = textOf(
      {},
      two,
      runsOf(2, '', [
        [1, 1],
        [3, 3],
        [7, 7],
        [2, 2],
      ]),
    )
    expect(repeats.headline).toBe('Too little to tell: no margin can be put on these effects.')
    expect(repeats.sentences).toEqual([expect.stringContaining('agree to the last digit')])
    const zeros = textOf({}, factors('A', 'B', 'C'), runsOf(3, '', [1, 5, 1, 5, 1, 5, 1, 5]))
    expect(zeros.sentences).toEqual([expect.stringContaining('Most effects are exactly zero')])
    expect(zeros.limits).toEqual([])
    expect(zeros.predictions).toEqual([])
  })
})

describe('other forms', () => {
  const three = factors('Card', 'Tray', 'Timer')

  it('names what may matter in the headline where nothing is sure', () => {
    const runs = runsOf(3, '', [10, 13.6, 10.5, 13.9, 9.8, 13.1, 10.4, 13.2])
    const text = textOf({}, three, runs)
    expect(text.headline).toBe('Card stands out from chance.')
    const less = textOf({}, three, runsOf(3, '', [10, 12.6, 10.9, 12, 9.2, 12.1, 10.4, 11.6]))
    expect(less.headline).toBe('Nothing stands out for sure; Card may matter.')
    expect(less.next).toBe('Run the same plan once more before relying on what may matter.')
  })

  it('doubts an effect of three changes together', () => {
    const runs = runsOf(3, '', [10, 30, 30.2, 10.1, 30.1, 10.2, 10, 30.3])
    const text = textOf({}, three, runs)
    expect(text.sentences[0]).toMatch(
      /^Card, Tray and Timer together: .* look for a run that went wrong/,
    )
    expect(text.next).toContain('Look at the single runs first')
  })

  it('says whether the middle fits a straight line', () => {
    const corners = [39.3, 40.9, 40, 41.5]
    const fits = textOf(
      { centerPoints: 5 },
      factors('Card', 'Tray'),
      runsOf(2, '', corners, [40.3, 40.5, 40.7, 40.2, 40.6]),
    )
    expect(all(fits)).toContain('The middle runs fit a straight line')
    const bent = textOf(
      { centerPoints: 5 },
      factors('Card', 'Tray'),
      runsOf(2, '', corners, [45.3, 45.5, 45.7, 45.2, 45.6]),
    )
    expect(all(bent)).toContain('above the mean of the others')
    const low = textOf(
      { centerPoints: 5 },
      factors('Card', 'Tray'),
      runsOf(2, '', corners, [35.3, 35.5, 35.7, 35.2, 35.6]),
    )
    expect(all(low)).toContain('below the mean of the others')
  })

  it('names the conditions and the runs that do not count', () => {
    const runs = runsOf(3, '', plant!.responses).map((r) =>
      r.position === 4 ? { ...r, leftOutReason: 'Spilt.' } : r,
    )
    const text = textOf({ conditions: 'Early shift, one builder.' }, three, runs)
    expect(text.limits).toContain('Run 4 does not count.')
    expect(text.limits.join('\n')).toContain(
      'under these conditions: Early shift, one builder. Elsewhere',
    )
  })

  it('calls a worse way worse', () => {
    const text = textOf({ better: 'down' }, three, runsOf(3, '', plant!.responses))
    expect(text.sentences[0]).toContain('higher on average, the worse way.')
  })

  it('never says that a change is safe, works or caused an improvement', () => {
    const texts = PUBLISHED_EXPERIMENTS.map((e) =>
      all(
        textOf(
          { generators: e.generators },
          factors(...e.factors),
          runsOf(e.factors.length, e.generators, e.responses),
        ),
      ),
    )
    for (const text of texts)
      expect(text).not.toMatch(/\bsafe|\bworks\b|\bcaused?\b|prove|undefined|NaN/)
  })
})

describe('the words for values', () => {
  it('write shares in percent and their differences in points, times in minutes and seconds', () => {
    const share = { responseKind: 'share', unitLabel: 'trays' } as const
    const time = { responseKind: 'duration', unitLabel: '' } as const
    expect(responseText(share, 0.74)).toBe('74 %')
    expect(differenceText(share, -0.01)).toBe('1 point lower')
    expect(sizeText(time, -62)).toBe('1:02')
    expect(differenceText(time, -7.42)).toBe('7.4 seconds shorter')
    expect(differenceText(time, 1)).toBe('1 second longer')
    expect(differenceText(time, 59.97)).toBe('1:00 longer')
    expect(runList([1, 2, 4, 5, 6])).toBe('1, 2 and 4 to 6')
  })
})
