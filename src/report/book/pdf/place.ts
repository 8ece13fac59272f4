// What a laid-out page holds: lengths in points (1/72 inch), from the top left corner, y down.
import type { Figure } from '../model.ts'

export type Placed =
  | {
      kind: 'text'
      x: number /** Of the baseline. */
      y: number
      size: number
      text: string
      bold?: boolean
      colour?: string
    }
  | { kind: 'rule'; fromX: number; fromY: number; toX: number; toY: number; width: number; colour: string }
  | { kind: 'box'; x: number; y: number; width: number; height: number; stroke: string; lineWidth: number }
  | { kind: 'figure'; x: number; y: number; scale: number; figure: Figure }
  | { kind: 'image'; x: number; y: number; width: number; height: number; png: Uint8Array }
  /** To the first page of a chapter, by its index. */
  | { kind: 'link'; x: number; y: number; width: number; height: number; chapter: number }

export interface LaidPage {
  items: Placed[]
}

export interface Laid {
  widthPt: number
  heightPt: number
  pages: LaidPage[]
  /** Index of the page that each chapter begins on. */
  chapterPages: number[]
}

/** Width of a text in points. */
export type Measure = (text: string, size: number, bold: boolean) => number
