import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { memoryPages, validateXML } from "xmllint-wasm";

const folder = fileURLToPath(new URL("../../../shared/data/qif/schema", import.meta.url));

/** Whether the published schemas of QIF 3.0 are beside this checkout; they are not part of it. */
export const schemasPresent = existsSync(folder);

/** The schema of XML signatures is not published with them; no document here is signed, so any content would do. */
const SIGNATURES = {
  fileName: "xmldsig-core-schema.xsd",
  contents: `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/2000/09/xmldsig#">
    <xs:complexType name="SignatureType"><xs:sequence/></xs:complexType>
  </xs:schema>`,
};

/** What the published schemas find wrong with a document; empty when it is valid. */
export async function schemaErrors(xml: string): Promise<string[]> {
  const files = ["QIFApplications", "QIFLibrary"].flatMap((part) =>
    readdirSync(`${folder}/${part}`).map((fileName) => ({
      fileName,
      // The validator has one flat folder.
      contents: readFileSync(`${folder}/${part}/${fileName}`, "utf8").replaceAll(
        /schemaLocation="[^"]*\/([^"/]+)"/g,
        'schemaLocation="$1"',
      ),
    })),
  );
  const main = files.find(({ fileName }) => fileName === "QIFDocument.xsd");
  if (main === undefined) throw new Error(`QIFDocument.xsd is not in ${folder}`);
  const found = await validateXML({
    xml: [{ fileName: "results.qif", contents: xml }],
    schema: [main],
    preload: [...files.filter((file) => file !== main), SIGNATURES],
    maxMemoryPages: 2 * memoryPages.GiB,
  });
  return found.errors.map(({ rawMessage }) => rawMessage);
}
