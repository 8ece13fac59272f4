// Text being typed: kept apart from the value until it is committed.
import { useState } from 'react'
import { useFault } from './useFault.ts'

interface TextDraft {
  text: string
  isDraft: boolean
  /** Why the text that was committed last is invalid, or null. */
  why: string | null
  isInvalid: boolean
  type(text: string): void
  /** Sets the value where it changed. Refused text stays to be mended, unless the field is left. */
  commit(leave: boolean): void
  /** The old text again. */
  restore(): void
}

/** `onSet` returns why the text is invalid, or null. */
export function useTextDraft(value: string, onSet: (value: string) => string | null): TextDraft {
  const [draft, setDraft] = useState<string | null>(null)
  const { why, isInvalid, set: setWhy } = useFault()
  return {
    text: draft ?? value,
    isDraft: draft !== null,
    why,
    isInvalid,
    type(text) {
      setDraft(text)
      setWhy(null)
    },
    commit(leave) {
      if (draft === null) return
      const fault = draft === value ? null : onSet(draft)
      setWhy(fault, leave)
      if (fault === null || leave) setDraft(null)
    },
    restore() {
      setDraft(null)
      setWhy(null)
    },
  }
}
