import { Enums, Models, Serialize, Spec, Validation } from '@cyclonedx/cyclonedx-library'
import type { LendingFont, LicenceRecord, LicensedFont } from '../../../app/model/licence-record.ts'
import type { LicenceDocuments } from '../../../app/ports/licence-documents.ts'

/** ECMA-424, first edition, is CycloneDX 1.6. */
const VERSION = Spec.Version.v1dot6
const spec = Spec.SpecVersionDict[VERSION]

/** Files of a font that stand for all of them before the validator. */
const VALIDATED_FILES = 100

/** Licence records by the standard's own library, checked by its validator. */
export const licenceDocuments: LicenceDocuments = {
  serialise(record) {
    return new TextEncoder().encode(documentOf(record))
  },

  async requireValid(record) {
    const shortened = <F extends LendingFont>(font: F): F => ({
      ...font,
      files: font.files.slice(0, VALIDATED_FILES),
    })
    const fonts = record.fonts.map(shortened)
    const lenders = lendersOf(record).map(shortened)
    const validator = new Validation.JsonStrictValidator(VERSION)
    const fault = await validator.validate(documentOf({ ...record, fonts, lenders }))
    if (fault !== null) throw new TypeError(`licence record: ${JSON.stringify(fault).slice(0, 2000)}`)
  },
}

function documentOf(record: LicenceRecord): string {
  if (spec === undefined) throw new TypeError('the library does not know CycloneDX 1.6')
  const serialiser = new Serialize.JsonSerializer(new Serialize.JSON.Normalize.Factory(spec))
  return completed(serialiser.serialize(bomOf(record), { sortLists: false }), record)
}

function bomOf(record: LicenceRecord): Models.Bom {
  const tool = new Models.Component(Enums.ComponentType.Application, 'Cardwright', {
    version: record.toolVersion,
  })
  return new Models.Bom({
    serialNumber: `urn:uuid:${record.serialUuid}`,
    version: 1,
    metadata: new Models.Metadata({
      timestamp: new Date(record.date),
      tools: new Models.Tools({ components: new Models.ComponentRepository([tool]) }),
      component: new Models.Component(Enums.ComponentType.Data, `Card ${record.fingerprint}`, {
        bomRef: 'card',
        description: `Content of a memory card for a board of the kind "${record.boardTitle}".`,
      }),
    }),
    components: new Models.ComponentRepository([
      ...record.fonts.map(fontComponent),
      ...lendersOf(record).map(lenderComponent),
    ]),
  })
}

function fontComponent(font: LicensedFont): Models.Component {
  return componentOf(font, `font-${font.slot}`, [
    new Models.Property('cardwright:slot', String(font.slot)),
    new Models.Property('cardwright:folder', font.folder),
  ])
}

/** A font of which single sounds play in others: numbered after all fonts, by no slot of the card. */
function lenderComponent(font: LendingFont, index: number): Models.Component {
  const property = new Models.Property('cardwright:single-sounds', String(font.files.length))
  return componentOf(font, `lender-${index + 1}`, [property])
}

function componentOf(
  font: LendingFont,
  bomRef: string,
  properties: readonly Models.Property[],
): Models.Component {
  const component = new Models.Component(Enums.ComponentType.Data, font.name, {
    bomRef,
    components: new Models.ComponentRepository(
      font.files.map((file, index) => fileComponent(file, `${bomRef}-file-${index + 1}`)),
    ),
    licenses: new Models.LicenseRepository(
      font.licences.map(
        ({ kind, terms }) =>
          new Models.NamedLicense(
            `${font.name}: ${kind}`,
            terms === '' ? {} : { text: new Models.Attachment(terms) },
          ),
      ),
    ),
    properties: new Models.PropertyRepository([
      ...properties,
      new Models.Property(
        'cardwright:licences',
        font.licences.map(({ kind }) => kind).join(' ') || 'none on record',
      ),
    ]),
  })
  if (font.version !== '') component.version = font.version
  if (font.creatorName !== null)
    component.supplier = new Models.OrganizationalEntity({ name: font.creatorName })
  return component
}

function lendersOf(record: LicenceRecord): readonly LendingFont[] {
  return record.lenders ?? []
}

/** A reference of its own for each: the library would make up random ones. */
function fileComponent(file: LicensedFont['files'][number], bomRef: string): Models.Component {
  return new Models.Component(Enums.ComponentType.File, file.path, {
    bomRef,
    hashes: new Models.HashDictionary([[Enums.HashAlgorithm['SHA-256'], file.sha256]]),
  })
}

interface WrittenLicence {
  license?: { name?: string; licensing?: unknown; properties?: unknown }
}

/**
 * Adds who granted a licence and of which type (ECMA-424, `licensing`), and what it says of conversion
 * where it does (`properties`): the library has no model for these yet. Takes out the empty dependencies that it lists: sounds depend on nothing. Components and
 * licences stand in the order of the record.
 */
function completed(text: string, record: LicenceRecord): string {
  const document = JSON.parse(text) as {
    components?: { licenses?: WrittenLicence[] }[]
    dependencies?: unknown
  }
  delete document.dependencies
  const fonts = [...record.fonts, ...lendersOf(record)]
  fonts.forEach((font, index) => {
    for (const [position, { license }] of (document.components?.[index]?.licenses ?? []).entries()) {
      if (license === undefined) continue
      license.licensing = {
        ...(font.creatorName === null ? {} : { licensor: { organization: { name: font.creatorName } } }),
        licenseTypes: ['other'],
      }
      const conversionAllowed = font.licences[position]?.conversionAllowed
      if (conversionAllowed === undefined) continue
      license.properties = [{ name: 'cardwright:conversion-allowed', value: conversionAllowed }]
    }
  })
  return `${JSON.stringify(document)}\n`
}
