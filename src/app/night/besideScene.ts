// The comparison's lamps in one place: where each picture stands, and the light of each.
import type { ColumnLight } from '../../job/compare/result.ts'
import { COLUMN_LETTERS } from '../../report/compare.ts'
import { type ComparedLamp, compare } from '../store/compare.ts'
import type { PictureSize } from './model/scene.ts'
import { type Cell, fieldDegOf, type PaintedScene, type SceneLight } from './scene.ts'

/** A picture is best about so wide for its height. */
const SHAPE = 1.6
const GAP_PX = 2

/** n pictures on a stage, in the rows and columns that leave each the most room, CSS px. n ≥ 1. */
export function cellsOf(n: number, { width, height }: PictureSize): Cell[] {
  const sizeIn = (columns: number): PictureSize => {
    const rows = Math.ceil(n / columns)
    return {
      width: Math.floor((width - GAP_PX * (columns - 1)) / columns),
      height: Math.floor((height - GAP_PX * (rows - 1)) / rows),
    }
  }
  const room = (columns: number) => {
    const size = sizeIn(columns)
    return Math.min(size.width, SHAPE * size.height)
  }
  const counts = Array.from({ length: n }, (_, i) => i + 1)
  const columns = counts.reduce((best, c) => (room(c) > room(best) ? c : best))
  const size = sizeIn(columns)
  return Array.from({ length: n }, (_, i) => ({
    x: (i % columns) * (size.width + GAP_PX),
    y: Math.floor(i / columns) * (size.height + GAP_PX),
    size,
  }))
}

/** The same object for the same light: its textures are uploaded once. */
const known = new WeakMap<ColumnLight, SceneLight>()

export function lightOf({ lamp, read }: Pick<ComparedLamp, 'lamp' | 'read'>): SceneLight | null {
  const light = read?.light
  if (!light?.night || !light.profile) return null
  const before = known.get(light)
  if (before?.lamp === lamp) return before
  const { night, profile, figures } = light
  const made: SceneLight = { name: lamp.name, lamp, sheet: { ...night, profile, figures } }
  known.set(light, made)
  return made
}

const lights = () => compare.getState().lamps.map(lightOf)

const cells = (size: PictureSize): Cell[] => {
  const { length } = compare.getState().lamps
  return length === 0 ? [] : cellsOf(length, size)
}

export const besideScene: PaintedScene = {
  cells,
  lights,
  /** All from one place, so that no beam is cut off. */
  fieldDeg: () => Math.max(...lights().map(fieldDegOf)),
  names: () =>
    compare.getState().lamps.map((l, i) => `${COLUMN_LETTERS[i]} ${l.name}${lightOf(l) ? '' : ': no light yet'}`),
  probes: (size, { u, v }) => cells(size).map((c) => [c.x + u * c.size.width, c.y + v * c.size.height]),
}
