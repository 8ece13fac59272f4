// Why what was typed is refused. Once the field is left it shows its valid value again: the reason can still be read, and goes with the next press or key.
import { useEffect, useState } from 'react'

interface Fault {
  why: string | null
  /** What stands in the field is refused; false once the old value stands there again. */
  isInvalid: boolean
  set(why: string | null, isLeft?: boolean): void
}

export function useFault(): Fault {
  const [{ why, isLeft }, setFault] = useState<{ why: string | null; isLeft: boolean }>({ why: null, isLeft: false })
  const stays = why !== null && isLeft
  useEffect(() => {
    if (!stays) return
    const end = () => setFault({ why: null, isLeft: false })
    // With the end of a press that begins after the field was left: what is pressed must not move while the button is down.
    const press = () => document.addEventListener('click', end, { once: true })
    document.addEventListener('keydown', end, true)
    document.addEventListener('pointerdown', press, { once: true, capture: true })
    return () => {
      document.removeEventListener('keydown', end, true)
      document.removeEventListener('pointerdown', press, true)
      document.removeEventListener('click', end)
    }
  }, [stays])
  return {
    why,
    isInvalid: why !== null && !isLeft,
    set: (reason, left = false) => setFault({ why: reason, isLeft: left }),
  }
}
