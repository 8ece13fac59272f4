// Which parts of the column are open, and which one was requested. Not saved, no history.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'

export type PartKey =
  | 'selection'
  | 'target'
  | 'emitters'
  | 'boards'
  | 'face'
  | 'optics'
  | 'tunnel'
  | 'lens'
  | 'elements'
  | 'heat'
  | 'power'
  | 'reading'
  | 'workshop'
  | 'fill'

const opened = createStore<Readonly<Record<string, boolean>>>()(() => ({
  selection: true,
  target: true,
  emitters: true,
  lens: true,
}))

/** Every request is a new object, so that the same part can be requested twice. */
export interface PartRequest {
  key: PartKey
  /** The part's first field gets the focus. */
  focusField: boolean
}
const request = createStore<{ now: PartRequest | null }>()(() => ({ now: null }))

export const openPart = (key: string, open: boolean): void => opened.setState({ [key]: open })
export const useOpen = (key: string): boolean => useStore(opened, (s) => s[key] ?? false)

/** Opens a part and its parent; the column scrolls to it. */
export function requestPart(key: PartKey, focusField = false): void {
  if (key === 'fill') openPart('face', true)
  openPart(key, true)
  request.setState({ now: { key, focusField } })
}
export const useRequestedPart = (): PartRequest | null => useStore(request, (s) => s.now)

/** Told of each request. */
export const onPartRequest = (onRequest: (request: PartRequest) => void): (() => void) =>
  request.subscribe(({ now }) => now && onRequest(now))
