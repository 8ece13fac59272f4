// The page's storage: for the menus of the bar, and for Night, which compares the open lamp with a stored one.
import { useStore } from 'zustand'
import { browserKeyValue } from './keyValue.ts'
import { createLastStates } from './lastStates.ts'
import { createStorage, freshId } from './storage.ts'
import { design } from './stores.ts'
import type { StorageState } from './sync.ts'

export const storage = createStorage(browserKeyValue(), design, {
  lastStates: createLastStates(() => localStorage, freshId()),
})
export const useStorage = <T>(pick: (s: StorageState) => T): T => useStore(storage.store, pick)
