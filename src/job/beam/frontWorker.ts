/// <reference lib="webworker" />
// A worker of the browser that searches in front of the lamp.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveFront } from './frontThread.ts'

serveFront(selfSide())
