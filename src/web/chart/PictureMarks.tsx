import { Fragment, memo } from 'react'
import type { Mark, MarkRole, Picture } from '../../charts/marks.ts'
import { ROLE_PAINT } from '../../charts/paint-roles.ts'

export interface PictureMarksProps {
  readonly picture: Picture
}

/**
 * The shapes of a picture. Colours come from classes (chart.css), lengths from attributes, so a
 * strict style policy holds.
 */
export const PictureMarks = memo(function PictureMarks({ picture }: PictureMarksProps) {
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in here takes the focus
    <g aria-hidden="true">
      {groupsOf(picture.marks).map(({ role, marks, start }) => (
        <RoleGroup key={start} role={role} marks={marks} unit={picture.unit} />
      ))}
    </g>
  )
})

interface RoleGroupProps {
  readonly role: MarkRole
  readonly marks: readonly Mark[]
  readonly unit: number
}

function RoleGroup({ role, marks, unit }: RoleGroupProps) {
  const paint = ROLE_PAINT[role]
  const className = [
    'chart-mark',
    paint.fill === null ? 'chart-fill-none' : `chart-fill-${paint.fill}`,
    paint.stroke === null ? '' : `chart-stroke-${paint.stroke}`,
    paint.round ? 'chart-round' : '',
    paint.halo ? 'chart-halo' : '',
    paint.bold ? 'chart-bold' : '',
  ]
  return (
    <g
      className={className.filter((name) => name !== '').join(' ')}
      data-role={role}
      strokeWidth={paint.stroke === null ? undefined : paint.strokeWidth * unit}
      strokeDasharray={paint.dash?.map((length) => length * unit).join(' ')}
    >
      {marks.map((mark, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: marks have no identity; a layout redraws all
        <Fragment key={i}>{shapeOf(mark)}</Fragment>
      ))}
    </g>
  )
}

function shapeOf(mark: Mark) {
  switch (mark.shape) {
    case 'path':
      return <path d={mark.d} />
    case 'circle':
      return <circle cx={mark.cx} cy={mark.cy} r={mark.r} />
    case 'text':
      return (
        <text x={mark.x} y={mark.y} fontSize={mark.size} textAnchor={mark.anchor}>
          {mark.text}
        </text>
      )
  }
}

/** Neighbours of one role together, in painting order. */
function groupsOf(marks: readonly Mark[]) {
  const groups: { role: MarkRole; start: number; marks: Mark[] }[] = []
  for (const [start, mark] of marks.entries()) {
    const last = groups.at(-1)
    if (last?.role === mark.role) last.marks.push(mark)
    else groups.push({ role: mark.role, start, marks: [mark] })
  }
  return groups
}
