// The lamp when no edit has come for a moment. Sheets, tiles and solids take some ten milliseconds or more: they don't follow a slider.
import { useEffect, useState } from 'react'
import type { Lamp } from '../../lamp/schema.ts'
import { useDesign } from '../store/stores.ts'

/** Longer than between two events of a slider, shorter than a wait. */
const REST_MS = 120

/** `isCurrent`: it is the lamp on the page. */
export function useLampAtRest(): { lamp: Lamp; isCurrent: boolean } {
  const now = useDesign((s) => s.lamp)
  const [lamp, setLamp] = useState(now)
  useEffect(() => {
    if (lamp === now) return
    const timer = setTimeout(() => setLamp(now), REST_MS)
    return () => clearTimeout(timer)
  }, [lamp, now])
  return { lamp, isCurrent: lamp === now }
}
