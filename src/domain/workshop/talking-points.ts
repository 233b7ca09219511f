import type { Moment } from './room.ts'

/** The pictures of a class that the room screen can show. */
export type RoomPictureName = 'times' | 'errors' | 'scatter' | 'spread' | 'curve'

/** One thing to say to the class at a moment of the lesson. */
export interface TalkingPoint {
  /** What it is about, in a few words. */
  readonly title: string
  /** For the facilitator, to say in their own words. */
  readonly say: string
  /** Put to the class on the room screen; `null`: only said. */
  readonly question: string | null
  /** What the room screen shows with it. */
  readonly picture: RoomPictureName | null
}

const said = (title: string, say: string): TalkingPoint => ({
  title,
  say,
  question: null,
  picture: null,
})
const shown = (
  picture: RoomPictureName,
  title: string,
  say: string,
  question: string,
): TalkingPoint => ({ title, say, question, picture })

/** What to say at each moment, in order. The room screen turns its pictures along with them. */
export const TALKING_POINTS: Readonly<Record<Moment, readonly TalkingPoint[]>> = {
  join: [
    said(
      'Why we are here',
      'We learn how to learn: small tests, one after the other, each with a prediction. The task is only the material.',
    ),
    said(
      'Join',
      'One phone a table is enough; more can join for timing and inspecting. No account and no full name: a first name or a role will do.',
    ),
    said(
      'The task and its clock',
      'Show the task once. Read out when the clock starts and when it stops, and ask somebody to say it back.',
    ),
    said(
      'Roles',
      'Each table has a builder, a timer, a recorder and an inspector. They change every round, so that everybody does each.',
    ),
  ],
  predict: [
    said(
      'One change a round',
      'Agree on one strategy and write it down before anybody touches the material.',
    ),
    said(
      'Predict, with a range',
      'How long will it take, and how many items will be right? Choose a range you would be surprised to miss: about eight of ten such ranges should hold.',
    ),
    said(
      'Say why',
      'A prediction with a reason is a theory. When it fails, the reason is what you learn from.',
    ),
    said(
      'Lock',
      'After the lock nothing can be changed, and other tables see it only once everybody has locked.',
    ),
  ],
  running: [
    said(
      'Watch',
      'Those who do not build watch for what surprises them, and say nothing until the clock stops.',
    ),
    said(
      'Stop, then inspect',
      'The clock stops as the card says, not when it looks nearly done. Then inspect with the list, before anybody repairs anything.',
    ),
    said(
      'A spoiled trial',
      'If something outside the task broke it, mark it void with the reason. It stays on the record.',
    ),
  ],
  compare: [
    shown(
      'times',
      'Times and predictions',
      'Each column is a table, its rounds from left to right. A bracket is what the table predicted, the dot is what came.',
      'Where did the dot fall outside the bracket, and what did that table not expect?',
    ),
    shown(
      'scatter',
      'Time against quality',
      'Quick counts only with everything right. Look for tables that moved left and down: they paid for speed with quality.',
      'Who became quicker without losing quality, and how?',
    ),
    shown(
      'errors',
      'How far off we were',
      'Every bracket that crosses the line held. Shorter brackets that still cross it are what learning looks like.',
      'Are we too hopeful, too cautious, or too sure?',
    ),
    shown(
      'spread',
      'The spread between tables',
      'A small spread means that tables found much the same way. Ask the ends what they do differently; this ranks nobody.',
      'What does the quickest table do that others could test?',
    ),
    shown(
      'curve',
      'The curve of the class',
      'Practice alone makes everybody quicker at first. A change has to do better than the curve would have done anyway.',
      'Was it the change, or was it practice?',
    ),
  ],
  debrief: [
    shown(
      'times',
      'What surprised you?',
      'Give the tables two minutes on this before anybody decides. A surprise is where the theory was wrong.',
      'What surprised you in this round?',
    ),
    shown(
      'errors',
      'Were you right, and for the right reason?',
      'A prediction can hold by luck. Ask for the reason that was written down, and whether that is what happened.',
      'Did your reason hold, or only your number?',
    ),
    shown(
      'scatter',
      'What did it cost?',
      'Time and quality belong together, as on a ward: an outcome and what must not get worse.',
      'What got worse while the time got better?',
    ),
    shown(
      'curve',
      'Adopt, adapt or abandon',
      'Each table decides and says why. Adapt: name the one thing that changes. Abandon is a good result too: it was cheap.',
      'What will you do next: adopt, adapt or abandon, and why?',
    ),
  ],
  'wrap-up': [
    shown(
      'curve',
      'What we learned',
      'Let each table say one sentence about how its theory changed, not about its time.',
      'What do you know now that you did not know before the first round?',
    ),
    shown(
      'errors',
      'Predicting',
      'Before you test a change on your ward, write down what you expect. It takes a minute, and few teams do it.',
      'What will you predict before your next change at work?',
    ),
    shown(
      'times',
      'Take it to the ward',
      'Name one change, one patient or one shift, and one measure. Small enough for tomorrow. Local policy and approval come first.',
      'What is the smallest test you could run tomorrow?',
    ),
  ],
}

/**
 * The talking point a room is at. Its index runs on past the last one and begins again.
 *
 * @param index 0 or more.
 *
 * @example
 * talkingPointAt('compare', 5).picture // => 'times'
 */
export function talkingPointAt(moment: Moment, index: number): TalkingPoint {
  const points = TALKING_POINTS[moment]
  return points[index % points.length]!
}
