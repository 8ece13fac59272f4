import { useRef } from 'react'
import type { Lamp } from '../../lamp/schema.ts'
import { plan, usePlan } from '../store/plan.ts'
import { useDesign } from '../store/stores.ts'

/** The lamp, but as it was taken up while boards are in the hand: for words and counts that no one reads during a drag. */
export function useStillLamp(): Lamp {
  usePlan((s) => s.held)
  const last = useRef<Lamp | null>(null)
  last.current = useDesign((s) => (plan.getState().held && last.current ? last.current : s.lamp))
  return last.current
}
