// A drawing at true size, mm, x to the right, y up: what every writer (DXF, SVG, PDF) and the page take. No paper and no file format here.

import type { Point } from '../layout/shape.ts'
import type { Box } from '../num/grid.ts'

/** By function. The first three are cut; bend, glue and mark are for the hands; the rest is for the eye. */
export const LAYERS = ['outline', 'hole', 'slot', 'bend', 'glue', 'mark', 'dimension', 'text', 'frame'] as const
export type Layer = (typeof LAYERS)[number]

/** `bulge`: of the way to the next vertex, tan(a quarter of the arc's angle), above 0 anticlockwise, 0 straight; as in DXF. */
export interface Vertex {
  x: number
  y: number
  bulge: number
}

export interface Path {
  kind: 'path'
  layer: Layer
  closed: boolean
  vertices: readonly Vertex[]
}

export interface Circle {
  kind: 'circle'
  layer: Layer
  x: number
  y: number
  radiusMm: number
}

/** One line of text; `heightMm` is that of a capital letter, (x, y) its base line’s left end, middle or right end. */
export interface Label {
  kind: 'text'
  layer: Layer
  x: number
  y: number
  heightMm: number
  text: string
  turnDeg: number
  align: 'left' | 'middle' | 'right'
}

export type Item = Path | Circle | Label

/** A size to be written in: along a line, or by an arrow to an edge. It turns and moves with its part. */
export type Size =
  /** `offsetMm`: of the dimension line, to the left of the way from → to. */
  | { kind: 'length'; from: Point; to: Point; offsetMm: number; text: string }
  /** The text stands at `text`, mm; the arrow’s head at `at`. */
  | { kind: 'arrow'; at: Point; from: Point; text: string }

/** What a title block says of the part. */
export interface Stock {
  material: string
  thicknessMm: number | null
}

export interface Drawing {
  /** As `drawSheet` was called. */
  name: string
  title: string
  items: readonly Item[]
  /** About everything, frame included. */
  box: Box
  /** About what is cut alone. */
  partBox: Box
  /** Whether a cutter’s kerf has to do with it. */
  isCut: boolean
}

/** What one sheet shows, before sizes become lines and a frame is put round it. */
export type Made =
  | {
      ok: true
      items: Item[]
      sizes: Size[]
      notes: string[]
      stock: Stock
      /** Whether the kerf’s half is added: not on a template that nothing is cut by. */
      isCut: boolean
      /** Entries of the workshop that the sheet rests on. */
      restsOn: WorkshopEntry[]
      /** Rows of a table beside the part, the first its head. */
      table?: string[][]
    }
  | Refusal

/** Why there is no drawing. */
export interface Refusal {
  ok: false
  why: string
  /** Sheets that hold the same in parts, and the words before their names. */
  instead?: { words: string; sheets: readonly SheetName[] }
}

export type WorkshopEntry =
  | 'kerfMm'
  | 'sheetMm'
  | 'tunnelThicknessMm'
  | 'tunnelMaterial'
  | 'seam'
  | 'bendK'
  | 'lensRing'

/** `name` is short and stays the same; `title` is for people. */
export interface SheetName {
  name: string
  title: string
}

/** One sheet of a lamp that may be drawn. */
export interface SheetPlan extends SheetName {
  draw: () => Made
}
