import type { RequestOf } from '../../app/contract/calls.ts'

type NewBuild = RequestOf<'builds:add'>

/** A build as it is recorded first, with nothing said of it but what a test is about. */
export function plainBuild(change: Partial<NewBuild> = {}): NewBuild {
  return {
    code: 'EX-1',
    clientLabel: '',
    boardId: 'bench-44',
    speaker: '',
    speakerLowLimitHz: null,
    fontEditionIds: [],
    config: null,
    ruleChanges: [],
    note: '',
    ...change,
  }
}
