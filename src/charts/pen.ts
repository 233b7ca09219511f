import type { Mark, MarkRole } from './marks.ts'

/** Tenths of a pixel are finer than any screen shows, and keep files short. */
export const tenth = (value: number): number => Math.round(value * 10) / 10

/** Collects the marks of a picture. */
export interface Pen {
  readonly path: (role: MarkRole, d: string) => void
  readonly circle: (role: MarkRole, cx: number, cy: number, r: number) => void
  readonly text: (
    role: MarkRole,
    text: string,
    x: number,
    y: number,
    size: number,
    anchor?: 'start' | 'middle' | 'end',
  ) => void
}

/** A pen that writes at the end of `marks`. Empty paths and texts leave no mark. */
export function penOn(marks: Mark[]): Pen {
  return {
    path: (role, d) => {
      if (d !== '') marks.push({ shape: 'path', role, d })
    },
    circle: (role, cx, cy, r) =>
      marks.push({ shape: 'circle', role, cx: tenth(cx), cy: tenth(cy), r: tenth(r) }),
    text: (role, text, x, y, size, anchor = 'start') => {
      if (text === '') return
      marks.push({ shape: 'text', role, x: tenth(x), y: tenth(y), anchor, size: tenth(size), text })
    },
  }
}
