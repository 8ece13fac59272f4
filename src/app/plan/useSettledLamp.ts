import { useRef } from 'react'
import type { Lamp } from '../../lamp/schema.ts'
import { plan, usePlan } from '../store/plan.ts'
import { useDesign } from '../store/stores.ts'

/** The lamp, frozen while boards are dragged: for text and counts that nobody reads during a drag. */
export function useSettledLamp(): Lamp {
  usePlan((s) => s.dragging)
  const last = useRef<Lamp | null>(null)
  last.current = useDesign((s) => (plan.getState().dragging && last.current ? last.current : s.lamp))
  return last.current
}
