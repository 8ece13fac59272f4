/// <reference lib="webworker" />
// A worker of the browser that reads directions of the sun.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveSun } from './sunThread.ts'

serveSun(selfSide())
