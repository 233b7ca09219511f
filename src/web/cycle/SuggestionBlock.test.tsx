import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { decision } from '../../../tests/support/records.ts'
import { SuggestionBlock, SuggestionThen } from './SuggestionBlock.tsx'

const words = (element: React.ReactElement) =>
  renderToStaticMarkup(element)
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
const now = { kind: 'adopt', reasons: ['Wait improved.'] } as const

it('says what the figures suggest, and that the team decides', () => {
  const said = words(<SuggestionBlock kind="keep-collecting" reasons={['Too few.']} />)
  expect(said).toContain('The figures suggest: Keep collecting before deciding. Too few.')
  expect(said).toContain('The team decides.')
})

it('shows the suggestion as it was then beside a decision that differs, with the reason', () => {
  const then = decision({
    kind: 'adapt',
    suggestedKind: 'abandon',
    suggestedReasons: 'Falls rose.\nNothing improved.',
    differsBecause: 'The rise began before.',
  })
  expect(words(<SuggestionThen decision={then} now={now} />)).toBe(
    'When the team decided, the figures suggested: Abandon. The team decided otherwise. Falls rose. Nothing improved. Why the team decided otherwise: The rise began before. As the data stand now, they suggest: Adopt.',
  )
})

it('does not ask after a reason that nobody gave, nor repeat what still holds', () => {
  const then = decision({
    kind: 'adopt',
    suggestedKind: 'adopt',
    suggestedReasons: 'Wait improved.',
    differsBecause: '',
  })
  expect(words(<SuggestionThen decision={then} now={now} />)).toBe(
    'When the team decided, the figures suggested: Adopt. The team decided the same. Wait improved.',
  )
})

it('says that the suggestion of an old decision was not kept', () => {
  const said = words(<SuggestionThen decision={decision()} now={now} />)
  expect(said).toContain('What the figures suggested at the time was not kept.')
  expect(said).toContain('As the data stand now, they suggest: Adopt')
})
