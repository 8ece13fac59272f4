// What of a document serves its making and its measuring alone: no light, heat or current is read of it.
import type { BoardType, Lamp } from './schema.ts'

/** A board type without its screw holes. */
export function withoutHoles({ holes: _, ...type }: BoardType): BoardType {
  return type
}

/** The lamp without its workshop, its tolerances, its readings and its boards' screw holes: two lamps that agree in the rest give the same results. */
export function withoutMaking({ workshop: _, tolerances: __, readings: ___, ...lamp }: Lamp): Lamp {
  return { ...lamp, boardTypes: lamp.boardTypes.map((type) => (type.holes ? withoutHoles(type) : type)) }
}
