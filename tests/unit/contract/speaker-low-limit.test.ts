import { describe, expect, test } from 'vitest'
import { calls } from '../../../app/contract/calls.ts'
import { plainBuild } from '../../support/plain-build.ts'

const prepare = (speakerLowLimitHz: number | null) =>
  calls.prepare.request.safeParse({ boardId: 'bench-44', editionIds: ['one'], speakerLowLimitHz }).success
describe("a speaker's lowest frequency", () => {
  test.each([20, 400, 2000, null])('of %s is taken', (hz) => {
    expect(prepare(hz)).toBe(true)
    expect(calls['builds:add'].request.safeParse(plainBuild({ speakerLowLimitHz: hz })).success).toBe(true)
    expect(calls['workshop:change'].request.safeParse({ speakerLowLimitHz: hz }).success).toBe(true)
  })

  test.each([19, 2001, 20_000])('of %i Hz is refused at every door', (hz) => {
    expect(prepare(hz)).toBe(false)
    expect(calls['builds:add'].request.safeParse(plainBuild({ speakerLowLimitHz: hz })).success).toBe(false)
    expect(calls['workshop:change'].request.safeParse({ speakerLowLimitHz: hz }).success).toBe(false)
  })

  test('that a build has on record is shown all the same', () => {
    const builds = [{ ...plainBuild({ speakerLowLimitHz: 4000 }), id: 'b', singleSounds: [] }]
    expect(calls['builds:list'].response.safeParse({ builds }).success).toBe(true)
  })
})
