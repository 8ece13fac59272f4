// The lamp that the answers give, its face filled by the worker; while that is at work, the one before.
import { useEffect, useState } from 'react'
import { fillInWorker } from '../../job/fill/client.ts'
import type { Answers } from '../../job/start/answers.ts'
import { beginLamp } from '../../job/start/lamp.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { fillFace } from '../../layout/fill.ts'
import { lampFault } from '../store/tryEdit.ts'

export interface BegunNow {
  answers: Answers
  lamp: Lamp
  didNotFit: number
  /** Why it would be no lamp, or null. */
  fault: string | null
}

async function begun(answers: Answers): Promise<BegunNow> {
  const { lamp, fill } = beginLamp(answers)
  const invalid = lampFault(lamp)
  if (invalid !== null) return { answers, lamp, didNotFit: 0, fault: invalid }
  // A worker that ends or does not answer must not keep anybody from a lamp.
  const filled = await fillInWorker(lamp, fill).catch(() => fillFace(lamp, fill))
  const whole = { ...lamp, boards: filled.boards }
  return { answers, lamp: whole, didNotFit: filled.didNotFit, fault: lampFault(whole) }
}

/** Null until the first is there. */
export function useBegun(answers: Answers): BegunNow | null {
  const [shown, setShown] = useState<BegunNow | null>(null)
  useEffect(() => {
    let isWanted = true
    void begun(answers).then((now) => {
      if (isWanted) setShown(now)
    })
    return () => {
      isWanted = false
    }
  }, [answers])
  return shown
}
