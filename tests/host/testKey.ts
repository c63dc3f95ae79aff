import { createPrivateKey, createPublicKey, sign } from "node:crypto";
import type { ShopKey } from "../../electron/host/shopKey.ts";

/** What stands before the 32 secret bytes of an Ed25519 key in its general form (PKCS #8, RFC 8410). */
const PKCS8_BEGIN = Buffer.from("302e020100300506032b657004220420", "hex");

/** A key for tests, the same for the same number. Its secret is in this file: it signs nothing that is meant. */
export function testKey(name: string, number = 1): ShopKey {
  const der = Buffer.concat([PKCS8_BEGIN, Buffer.alloc(32, number)]);
  const privateKey = createPrivateKey({ key: der, format: "der", type: "pkcs8" });
  const spki = createPublicKey(privateKey).export({ format: "der", type: "spki" });
  return {
    name,
    publicKey: spki.subarray(-32).toString("base64"),
    sign: (bytes) => sign(null, bytes, privateKey),
  };
}
