// The picture of the wall that is being worked on. It becomes readings only when it is added; the pictures themselves are kept nowhere.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { ExposureData } from '../../../readings/photo/exif.ts'
import type { Point } from '../../../readings/photo/homography.ts'
import type { Picture } from '../../../readings/photo/pixels.ts'
import { decodePicture } from './decode.ts'

export interface Shot {
  key: number
  name: string
  picture: Picture
  exposure: ExposureData
}

/** Of the marks, in turn from the upper left, and of the meter's place. */
export type MarkKey = 0 | 1 | 2 | 3 | 'meter'

interface PictureState {
  open: boolean
  shots: readonly Shot[]
  field: Shot | null
  shownKey: number | null
  /** 0 to 1 from the left and the top of the picture. */
  marks: readonly Point[]
  meterAt: Point
  /** While a mark is dragged the map waits. */
  isDragging: boolean
  widthMm: number
  heightMm: number
  distanceM: number
  readLx: number | null
  strayLx: number
  zero: 'middle' | 'brightest'
  cells: number
  isReading: boolean
  why: readonly string[]
}

const MARKS: readonly Point[] = [
  [0.2, 0.2],
  [0.8, 0.2],
  [0.8, 0.8],
  [0.2, 0.8],
]

export const wallPicture = createStore<PictureState>()(() => ({
  open: false,
  shots: [],
  field: null,
  shownKey: null,
  marks: MARKS,
  meterAt: [0.5, 0.5],
  isDragging: false,
  widthMm: 2000,
  heightMm: 1500,
  distanceM: 5,
  readLx: null,
  strayLx: 0,
  zero: 'middle',
  cells: 31,
  isReading: false,
  why: [],
}))

export const useWallPicture = <T>(pick: (s: PictureState) => T): T => useStore(wallPicture, pick)

let lastKey = 0

/** Exposures of one scene. A file that can't be read is named, the others stay. */
export async function addShots(files: readonly File[]): Promise<void> {
  await readAll(files, (shot) =>
    wallPicture.setState(({ shots, shownKey }) => ({ shots: [...shots, shot], shownKey: shownKey ?? shot.key })),
  )
}

export async function setField(file: File): Promise<void> {
  await readAll([file], (field) => wallPicture.setState({ field }))
}

async function readAll(files: readonly File[], take: (shot: Shot) => void): Promise<void> {
  wallPicture.setState({ isReading: true, why: [] })
  for (const file of files) {
    const read = await decodePicture(file)
    if (read.ok) take({ key: ++lastKey, name: file.name, picture: read.picture, exposure: read.exposure })
    else wallPicture.setState(({ why }) => ({ why: [...why, read.why] }))
  }
  wallPicture.setState({ isReading: false })
}

export function removeShot(key: number): void {
  wallPicture.setState(({ shots, shownKey }) => {
    const left = shots.filter((s) => s.key !== key)
    return { shots: left, shownKey: shownKey === key ? (left[0]?.key ?? null) : shownKey }
  })
}

export function setExposure(key: number, part: Partial<ExposureData>): void {
  wallPicture.setState(({ shots }) => ({
    shots: shots.map((s) => (s.key === key ? { ...s, exposure: { ...s.exposure, ...part } } : s)),
  }))
}

export const markAt = ({ marks, meterAt }: Pick<PictureState, 'marks' | 'meterAt'>, key: MarkKey): Point =>
  key === 'meter' ? meterAt : (marks[key] ?? [0.5, 0.5])

/** Within the picture. */
export function moveMark(key: MarkKey, [x, y]: Point, isDragging = false): void {
  const to: Point = [Math.min(1, Math.max(0, x)), Math.min(1, Math.max(0, y))]
  wallPicture.setState(({ marks }) =>
    key === 'meter'
      ? { meterAt: to, isDragging }
      : { marks: marks.map((mark, i) => (i === key ? to : mark)), isDragging },
  )
}
