import type { ReactNode } from 'react'
import type { Picture } from '../../charts/marks.ts'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { Notice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { Section } from '../ui/Section.tsx'
import {
  bracketSample,
  goalSample,
  phaseSample,
  signalSample,
  toothSample,
} from './chart-samples.ts'
import '../chart/chart.css'
import './about-charts.css'

/** What the charts are for, what they are not for, and what each mark means. */
export function AboutChartsPage() {
  return (
    <Page
      title="What the charts are for"
      lead={<p>They help a team see whether a change in its work is an improvement.</p>}
    >
      <Section title="For improvement">
        <p>
          A chart shows one measure over time, beside the tests of change that were meant to move
          it. It helps to tell a real shift from the ups and downs that every process has, and to
          hold what happened against what the team predicted beforehand.
        </p>
        <p>
          A signal says that the process has probably changed. It does not say why. Other changes in
          the same weeks, the season, or a new way of counting can all make one; that is why tests
          are small, dated and predicted.
        </p>
      </Section>
      <Section title="Not for one patient">
        <Notice kind="care">
          <p>
            <strong>The charts say nothing about the care of one patient.</strong> They are made of
            counts and averages, may be late or incomplete, and are not a diagnosis, an alarm or
            advice on treatment.
          </p>
          <p>
            Local policy and licensed practice come first. Whether a test of change may go ahead is
            decided where you work, by those whose task that is. Pawl asks whether that decision is
            on record; it never says that a change is safe.
          </p>
        </Notice>
        <p>
          Keep patients’ names, numbers, dates of birth and addresses out of every field. Nor are
          the charts for ranking people or wards.
        </p>
      </Section>
      <Section
        title="How to read the marks"
        aside={<p>Every chart also says all of this in words and in a table.</p>}
      >
        <div className="samples">
          <Sample
            title="Prediction"
            picture={bracketSample}
            alt="Three brackets: one without an outcome yet, one with its dot inside, one with its dot below."
          >
            A bracket from the lowest to the highest value the team expected, with a tick at the
            most likely one. It is locked before the test starts. The dot is what happened.
          </Sample>
          <Sample
            title="Tests along the time axis"
            picture={toothSample}
            alt="A rail with a full tooth, an outlined tooth that leans forward, a notch, a dotted slope, and a dotted tooth."
          >
            One tooth a test, at its dates. Full: the change was adopted. Leaning: it was adapted
            into the next test. A notch: it was abandoned. Dotted: it runs, or waits for its Study.
          </Sample>
          <Sample
            title="Signal"
            picture={signalSample}
            alt="Six points in a row above the centre line, each with a ring, and the letter a."
          >
            Rings round the points that make it, and a letter. The same letter heads a sentence
            under the chart: which rule, which way, and whether that way is better.
          </Sample>
          <Sample
            title="Phase, centre and limits"
            picture={phaseSample}
            alt="A centre line that steps up half way, dashed limits on both sides, and catch marks where the first limits end."
          >
            The thick line is the centre; it steps where a new phase begins. The dashes are limits:
            nearly all points of a steady process fall between them. A catch mark says that limits
            were frozen there and carried forward.
          </Sample>
          <Sample
            title="Goal"
            picture={goalSample}
            alt="An arrow at the right edge that points at the height of the goal."
          >
            A short arrow at the right edge. It is no line across the data, since a goal says
            nothing about what the process does.
          </Sample>
        </div>
      </Section>
      <Section title="False alarms">
        <p>
          Every set of rules gives a signal now and then although nothing has changed, more often
          the longer the chart. Each chart names its rule set. A signal is a reason to look, not a
          proof.
        </p>
      </Section>
    </Page>
  )
}

interface SampleProps {
  readonly title: string
  readonly picture: Picture
  /** What the picture shows, for those who do not see it. */
  readonly alt: string
  readonly children: ReactNode
}

function Sample({ title, picture, alt, children }: SampleProps) {
  const { width, height } = picture
  return (
    <div className="sample">
      <svg role="img" aria-label={alt} viewBox={`0 0 ${width} ${height}`} width={width}>
        <PictureMarks picture={picture} />
      </svg>
      <div>
        <h3>{title}</h3>
        <p>{children}</p>
      </div>
    </div>
  )
}
