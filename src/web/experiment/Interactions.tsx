import { useMemo } from 'react'
import {
  describeInteraction,
  type InteractionSpec,
  interactionTable,
  layOutInteraction,
} from '../../charts/interaction-chart.ts'
import type { EffectsFinding, PairMeans } from '../../domain/experiment-finding.ts'
import { effectName, factorOf, responseStyle } from '../../domain/experiment-words.ts'
import { formatValue } from '../../domain/value-text.ts'
import { PointedFigure } from '../chart/PointedFigure.tsx'

/** Every pair of changes as a picture: those that stand out or may first, the others on demand. */
export function Interactions({ finding }: { readonly finding: EffectsFinding }) {
  const { pairs, effects, resolution } = finding
  const marked = useMemo(() => {
    const shown = effects.filter((e) => e.standing === 'clear' || e.standing === 'possible')
    return new Set(shown.flatMap((e) => [e.effect, ...e.mixedWith]))
  }, [effects])
  const range = useMemo((): readonly [number, number] => {
    const all = pairs.flatMap((p) => [p.lowLow, p.highLow, p.lowHigh, p.highHigh])
    return [Math.min(...all), Math.max(...all)]
  }, [pairs])
  // Where single changes are mixed with pairs, no pair stands out by itself.
  const mixed = resolution !== null && resolution < 4
  const first = mixed ? [] : pairs.filter((p) => marked.has(p.pair))
  const others = pairs.filter((p) => !first.includes(p))
  const grid = (some: readonly PairMeans[]) => (
    <div className="interactions">
      {some.map((pair) => (
        <Interaction key={pair.pair} finding={finding} pair={pair} range={range} />
      ))}
    </div>
  )
  return (
    <div className="stack tight fill">
      <h3>How the changes depend on each other</h3>
      <p className="small soft">
        Mean of {finding.experiment.response} at each combination. Lines side by side: what one
        change does is the same either way of the other. Lines that draw apart or cross: it depends.
        Small differences between lines are what chance gives.
      </p>
      {mixed && (
        <p className="small soft">
          In this design single changes are mixed with pairs: lines that cross may be the doing of a
          third change.
        </p>
      )}
      {first.length > 0 && grid(first)}
      {others.length > 0 && (
        <details>
          <summary>{first.length > 0 ? 'The other pairs' : 'Every pair'}</summary>
          {grid(others)}
        </details>
      )}
    </div>
  )
}

interface InteractionProps {
  readonly finding: EffectsFinding
  readonly pair: PairMeans
  readonly range: readonly [number, number]
}

function Interaction({ finding, pair, range }: InteractionProps) {
  const { experiment, factors } = finding
  const spec = useMemo((): InteractionSpec => {
    const [first, second] = [...pair.pair].map((letter) => factorOf(letter, factors)!)
    const style = responseStyle(experiment.responseKind)
    return {
      first: first!,
      second: second!,
      means: pair,
      range,
      format: (value) => formatValue(style, value),
    }
  }, [experiment, factors, pair, range])
  const layOut = useMemo(() => (width: number) => layOutInteraction(spec, width), [spec])
  const words = useMemo(() => describeInteraction(spec), [spec])
  const table = useMemo(() => () => interactionTable(spec), [spec])
  const name = effectName(pair.pair, factors)
  return (
    <PointedFigure
      title={name}
      headingLevel={4}
      layOut={layOut}
      words={words}
      table={table}
      least={240}
    />
  )
}
