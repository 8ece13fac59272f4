// The page's own drawer: for the bar that opens it, and for whoever lays another lamp beside the one on the sheet.
import { useStore } from 'zustand'
import { createDrawer, type DrawerState } from './drawer.ts'
import { browserKeyValue } from './keyValue.ts'
import { design } from './stores.ts'

export const drawer = createDrawer(browserKeyValue(), design)
export const useDrawer = <T>(pick: (s: DrawerState) => T): T => useStore(drawer.store, pick)
