// The Night view's own pictures: the open lamp, and in the other half what it is compared with.
import { comparison } from './comparison.ts'
import type { PictureSize } from './model/scene.ts'
import { type Cell, fieldDegOf, openLight, type PaintedScene, type SceneLight } from './scene.ts'
import { night } from './state.ts'

const isSplit = () => night.getState().comparison !== 'none'

function halvesOf(size: PictureSize): Cell[] {
  if (!isSplit()) return [{ x: 0, y: 0, size }]
  const width = Math.floor(size.width / 2)
  return [
    { x: 0, y: 0, size: { ...size, width } },
    { x: size.width - width, y: 0, size: { ...size, width } },
  ]
}

function splitLights(): (SceneLight | null)[] {
  const first = openLight()
  return isSplit() ? [first, first && comparison.getState().lit] : [first]
}

const fieldDeg = () => fieldDegOf(openLight())
const probes: PaintedScene['probes'] = (size, { u, v }) => [[u * size.width, v * size.height]]

export const splitScene: PaintedScene = {
  cells: halvesOf,
  lights: splitLights,
  fieldDeg,
  names: () => (isSplit() ? splitLights().map((l) => l?.name ?? '') : []),
  probes,
}

/** The open lamp, whatever it is compared with. */
export const aloneScene: PaintedScene = {
  cells: (size) => [{ x: 0, y: 0, size }],
  lights: () => [openLight()],
  fieldDeg,
  names: () => [],
  probes,
}
