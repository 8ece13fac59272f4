// The book as data: chapters of blocks, the same for the page in HTML and for the PDF. Text is plain and untrusted: a renderer escapes it.
import type { Severity } from '../../checks/finding.ts'

/** In their order. */
export const CHAPTER_IDS = [
  'pictures',
  'night',
  'beam',
  'parts-buy',
  'danger',
  'heat',
  'wiring',
  'parts',
  'drawings',
  'assembly',
  'power-up',
  'assumptions',
  'sources',
  'origin',
] as const
export type ChapterId = (typeof CHAPTER_IDS)[number]

export const CHAPTER_TITLES: Record<ChapterId, string> = {
  pictures: 'The lamp in pictures',
  night: 'At night',
  beam: 'Beam sheet',
  'parts-buy': 'What each part adds',
  danger: 'Danger',
  heat: 'Heat and modes',
  wiring: 'Wiring',
  parts: 'Parts list',
  drawings: 'Drawings, small',
  assembly: 'Order of assembly',
  'power-up': 'First power-up',
  assumptions: 'Assumptions',
  sources: 'Sources of the figures',
  origin: 'Version, seed, hash',
}

export interface Style {
  stroke?: string
  /** In the figure's own unit. */
  width?: number
  fill?: string
  dash?: readonly number[]
}

export type Mark =
  | ({ kind: 'line'; points: readonly (readonly [number, number])[]; closed?: boolean } & Style)
  | ({ kind: 'circle'; x: number; y: number; r: number } & Style)
  | {
      kind: 'text'
      x: number
      /** Of the baseline. */
      y: number
      size: number
      text: string
      anchor?: 'start' | 'middle' | 'end'
      bold?: boolean
      colour?: string
      /** Turned anticlockwise about its anchor. */
      turnDeg?: number
    }

/** A vector picture: x to the right, y down, from 0 to its width and height. One unit is a point (1/72 inch) where the page is wide enough. */
export interface Figure {
  width: number
  height: number
  marks: readonly Mark[]
  /** What it shows, for who can't see it. */
  words: string
  /** "1 : 5" where it was drawn to a scale, and a unit is a point. */
  scale?: string
}

export interface Table {
  kind: 'table'
  head?: readonly string[]
  rows: readonly (readonly string[])[]
  /** Columns that stand to the right. */
  right?: readonly number[]
  caption?: string
  /** The last row is a sum. */
  sum?: boolean
}

export type Block =
  | { kind: 'heading'; text: string }
  | { kind: 'paragraph'; text: string; quiet?: boolean }
  | { kind: 'list'; items: readonly string[]; numbered?: boolean }
  | Table
  | { kind: 'values'; rows: readonly (readonly [string, string])[] }
  | { kind: 'note'; severity: Severity; title: string; lines: readonly string[] }
  | { kind: 'checks'; items: readonly { text: string; done: boolean; remarks?: readonly string[] }[] }
  | { kind: 'figure'; figure: Figure; caption: string }
  | { kind: 'image'; png: Uint8Array; widthPx: number; heightPx: number; caption: string }

export interface Chapter {
  id: ChapterId
  title: string
  blocks: readonly Block[]
}

export interface Book {
  title: string
  /** Under the title, as on top of the page: what to do next, or what the lamp is. */
  answer: { text: string; severe: boolean }
  /** Under it: date, version, hash in short. */
  facts: readonly (readonly [string, string])[]
  /** Cautions and severe findings: before everything else. */
  cautions: readonly Block[]
  chapters: readonly Chapter[]
  /** At the foot of every page. */
  foot: string
  /** At the head of every page: how many severe findings there are; empty without any. */
  warning: string
  paper: 'A4' | 'Letter'
  /** The lamp's document, which goes with the book: whoever has it traces the same numbers. */
  lampText: string
  /** For the document's own data. */
  version: string
  /** As ISO 8601 has it: 2026-01-31. */
  date: string
}
