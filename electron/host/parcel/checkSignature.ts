import type { ParcelFileName, ParcelManifest } from "../../../core/report/parcelSchema.ts";
import { isSignedBy, publicKeyPem } from "../shopKey.ts";
import { changed } from "./parcelTrouble.ts";

/**
 * Checks that the parcel is signed by whom its manifest names, or by nobody if it names nobody.
 * @throws ParcelTrouble when not.
 */
export function checkSignature(files: ReadonlyMap<ParcelFileName, Buffer>, { shop }: ParcelManifest): void {
  const signature = files.get("manifest.sig");
  const pem = files.get("signer.pem");
  if (shop === undefined) {
    if (signature !== undefined)
      throw changed("manifest.sig", "there is a signature, and the manifest names nobody who signed");
    if (pem !== undefined) throw changed("signer.pem", "there is a key, and the manifest names nobody who signed");
    return;
  }
  if (signature === undefined)
    throw changed("manifest.sig", `it is missing; the manifest says that "${shop.name}" signed`);
  if (pem === undefined) throw changed("signer.pem", `it is missing; the manifest says that "${shop.name}" signed`);
  if (!isSignedBy(shop.key, files.get("manifest.json") as Buffer, signature)) {
    throw changed("manifest.sig", `the signature of "${shop.name}" is not right for this manifest`);
  }
  if (publicKeyPem(shop.key) !== pem.toString("latin1")) {
    throw changed("signer.pem", "it is another key than the one that signed");
  }
}
