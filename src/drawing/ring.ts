// The flat ring that a lens, cover or film lies on, and why one can't be drawn.
import { elementsOf, type RowElement } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { type RingSizes, ringFault, ringSizes } from '../layout/lensRing.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { MM, mm } from './sizes.ts'

/** In a sentence. */
export const opticWords = ({ isLens, name }: Pick<RowElement, 'isLens' | 'name'>): string =>
  isLens ? 'the lens' : name

export type MadeRing = { ok: true; ring: RingSizes } | { ok: false; why: string }

/** For names of sheets: lens, then the others in their order along the axis. */
export const ringNames = (lamp: Lamp): { name: string; element: RowElement }[] =>
  elementsOf(lamp).map((element, i) => ({ name: element.isLens ? 'lens' : `${element.kind}-${i + 1}`, element }))

export function ringOf(lamp: Lamp, element: RowElement): MadeRing {
  const { lensRing } = workshopOf(lamp)
  const ring = ringSizes(element, lensRing)
  const fault = ringFault(ring, lensRing)
  const { lipMm, screwMm, widthMm, screws } = lensRing
  const optic = opticWords(element)
  switch (fault?.of) {
    case undefined:
      return { ok: true, ring }
    case 'ideal':
      return { ok: false, why: 'An ideal lens has no body that a ring could hold.' }
    case 'lip':
      return { ok: false, why: `A lip of ${mm(lipMm)} ${MM} covers the whole of ${optic}.` }
    case 'screw':
      return {
        ok: false,
        why: `Screws of ${mm(screwMm)} ${MM} cross the edge of a ring that is ${mm(widthMm)} ${MM} wide beside ${optic}.`,
      }
    case 'overlap':
      return {
        ok: false,
        why: `${screws} screws of ${mm(screwMm)} ${MM} overlap on the ring of ${optic}: ${mm(fault.apartMm)} ${MM} from middle to middle.`,
      }
  }
}
