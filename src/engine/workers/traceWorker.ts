/// <reference lib="webworker" />
// A tracing worker in the browser.
import { serveTasks } from './protocol.ts'
import { selfSide } from './selfBrowser.ts'

serveTasks(selfSide())
