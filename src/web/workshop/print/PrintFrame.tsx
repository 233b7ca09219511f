import type { ReactNode } from 'react'
import { Button } from '../../ui/Button.tsx'
import { Checkbox } from '../../ui/Checkbox.tsx'
import { Page } from '../../ui/Page.tsx'
import './print.css'

interface PrintChoice {
  readonly key: string
  readonly label: string
  readonly on: boolean
}

export interface PrintFrameProps {
  readonly title: string
  readonly crumbs: readonly { readonly label: string; readonly href: string }[]
  readonly choices: readonly PrintChoice[]
  readonly onChoose: (key: string, on: boolean) => void
  /** What else can be chosen. */
  readonly more?: ReactNode
  /** Pages that would come out of the printer. */
  readonly pages: number
  readonly children: ReactNode
}

/** What is printed, chosen above, and its pages below as they come out of the printer. */
export function PrintFrame(props: PrintFrameProps) {
  const { title, crumbs, choices, onChoose, more, pages, children } = props
  return (
    <div className="printing">
      <Page title={title} crumbs={crumbs}>
        <div className="stack print-choices">
          <fieldset className="group">
            <legend>What to print</legend>
            {choices.map(({ key, label, on }) => (
              <Checkbox
                key={key}
                label={label}
                checked={on}
                onChange={(checked) => onChoose(key, checked)}
              />
            ))}
          </fieldset>
          {more}
          <div className="row">
            <Button look="main" onClick={() => window.print()}>
              {`Print ${pages} ${pages === 1 ? 'page' : 'pages'}`}
            </Button>
            <p className="small soft">A4 or Letter, whichever the printer holds.</p>
          </div>
        </div>
        <div className="sheets">{children}</div>
      </Page>
    </div>
  )
}
