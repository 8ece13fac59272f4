// The page's own drawer: for the bar that opens it, and for whoever lays another lamp beside the one on the sheet.
import { useStore } from 'zustand'
import { browserKeyValue } from './keyValue.ts'
import { createDrawer, type DrawerState } from './storage.ts'
import { design } from './stores.ts'

export const drawer = createDrawer(browserKeyValue(), design)
export const useDrawer = <T>(pick: (s: DrawerState) => T): T => useStore(drawer.store, pick)
