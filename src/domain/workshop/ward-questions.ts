import type { WrapUp } from './wrap-up.ts'

/**
 * Questions to take back to the ward: what this workshop showed first, then those for everybody.
 *
 * @returns Four to eight questions, each once.
 */
export function wardQuestions(found: WrapUp): string[] {
  const questions: string[] = []
  const { trades, predictions, timers, inspectors, decisions } = found
  if (trades.some((t) => t.kind === 'quality-for-speed'))
    questions.push(
      'Where at work do we get faster by leaving something out, and which measure would show it?',
    )
  if (predictions.predicts === 'range' && predictions.all !== null) {
    if (predictions.all.share.estimate < predictions.all.stated)
      questions.push('Of what at work are we surer than we should be, and who would have told us?')
  }
  if (timers.pairs.length > 0 || (inspectors.agreed !== null && inspectors.agreed.estimate < 1))
    questions.push('Which of our figures would come out otherwise if somebody else took them down?')
  if (decisions.some((d) => d.kind === 'abandon'))
    questions.push('What did we stop doing after a test, and did we write down why?')
  questions.push(
    'What could we try on one patient, one bed or one shift tomorrow?',
    'What do we expect of it, from what to what, and why?',
    'Which one or two figures would tell us, and who can take them down without extra work?',
    'What could get worse meanwhile, and how would we notice?',
  )
  return questions
}
