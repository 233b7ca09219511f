import type { ChartSpec } from '../../charts/spec.ts'

export interface TimeChartFigureProps extends ChartSpec {
  /** 1 on a page, about 2 on a room screen. */
  readonly textScale?: number
  /** Pixels; chosen from the width where left out. */
  readonly height?: number
  /** Level of the heading that carries `title`; `null`: the page has its own. Default 2. */
  readonly headingLevel?: 2 | 3 | 4 | null
  /** Opens a test of change when its tooth is pressed. */
  readonly onOpenTest?: (id: string) => void
  /** Says what each letter means, under the picture. Default `true`. */
  readonly signalSentences?: boolean
  /** Width before the browser has measured the space, and in tests. Default 720. */
  readonly initialWidth?: number
}
