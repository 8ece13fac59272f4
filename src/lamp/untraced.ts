// Entries that the document has and the tracers don't yet: such a lamp is refused, never traced without them.
import type { Lamp } from './schema.ts'

/** A sentence for each entry of the lamp that nothing traces. */
export function findUntraced(lamp: Lamp): string[] {
  const why: string[] = []
  const say = (where: string) => why.push(`${where}: not traced yet; leave it out.`)
  const { tunnel, lens } = lamp
  if (tunnel) {
    for (const key of ['inHeightMm', 'outHeightMm', 'reflectanceByNm', 'joints'] as const)
      if (tunnel[key] !== undefined) say(`tunnel.${key}`)
  }
  if (lens) {
    for (const key of ['heightMm', 'decentreXMm', 'decentreYMm', 'tiltXDeg', 'tiltYDeg', 'turnDeg'] as const)
      if (lens[key] !== undefined) say(`lens.${key}`)
    for (const key of ['centreXMm', 'centreYMm'] as const) if (lens[key] !== undefined) say(`lens.${key}`)
    if (lens.aperture === 'rectangle' || (lens.kind !== 'fresnel' && lens.aperture)) say('lens.aperture')
  }
  if (lamp.elements) say('elements')
  return why
}
