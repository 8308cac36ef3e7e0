import { expect, test } from 'vitest'
import type { Licence } from '../../../app/model/records.ts'
import { licenceStandings, type LicenceUse } from '../../../app/usecases/licence-standings.ts'

const licence = (terms: string, change: Partial<Licence> = {}): Licence => ({
  id: 'l',
  fontId: 'f',
  fontName: 'Ember',
  holder: 'Example bench',
  kind: 'bought',
  grantedOn: '',
  orderReference: '',
  terms,
  conversionAllowed: 'unknown',
  note: '',
  ...change,
})
const forClient: LicenceUse = { isForClient: true, otherBuilds: 0 }

test.each([
  ['One build; conversion allowed.', { forbids: null, seatsLeft: 1, credit: null }],
  ['Up to 5 builds. Credit the creator.', { forbids: null, seatsLeft: 5, credit: 'Credit the creator' }],
  ['Free to pass on; name the maker.', { forbids: null, seatsLeft: null, credit: 'name the maker' }],
  ['For personal use only. No resale.', { forbids: 'For personal use only', seatsLeft: null, credit: null }],
  ['', { forbids: null, seatsLeft: null, credit: null }],
])('of the terms "%s" is read what they say', (terms, standing) => {
  expect(licenceStandings([licence(terms)], forClient)).toMatchObject([standing])
})

test('words against other people’s builds do not count for a build of one’s own, nor for one’s own font', () => {
  const terms = 'Personal use only.'
  expect(licenceStandings([licence(terms)], { ...forClient, isForClient: false })[0]?.forbids).toBeNull()
  expect(licenceStandings([licence(terms, { kind: 'own' })], forClient)[0]?.forbids).toBeNull()
})

test('uses of several licences add up, and other builds take theirs', () => {
  const two = [licence('One build.'), licence('Two hilts.')]
  expect(licenceStandings(two, { ...forClient, otherBuilds: 2 }).map((each) => each.seatsLeft)).toEqual([
    1, 1,
  ])
})

test('one licence that counts nothing covers any number of builds', () => {
  const both = [licence('One build.'), licence('Any number of uses.')]
  expect(licenceStandings(both, { ...forClient, otherBuilds: 9 }).map((each) => each.seatsLeft)).toEqual([
    null,
    null,
  ])
})

test('without a build nothing is counted', () => {
  expect(
    licenceStandings([licence('One build.')], { isForClient: false, otherBuilds: null })[0]?.seatsLeft,
  ).toBeNull()
})
