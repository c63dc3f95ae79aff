// How the installers are made (the packager's own configuration, checked against its schema by the packager itself).
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const icons = fileURLToPath(new URL("icons/", import.meta.url));

/**
 * What the runtime is kept from for good, in its own file (its fuses): it runs nothing but this program, from its archive
 * alone, and listens to no debugger and no variable of the environment.
 */
export const FUSES = {
  runAsNode: false,
  enableCookieEncryption: true,
  enableNodeOptionsEnvironmentVariable: false,
  enableNodeCliInspectArguments: false,
  enableEmbeddedAsarIntegrityValidation: true,
  onlyLoadAppFromAsar: true,
  loadBrowserProcessSpecificV8Snapshot: false,
  grantFileProtocolExtraPrivileges: false,
  resetAdHocDarwinSignature: true,
};

/** What the system opens with this program. */
export const FILES = [
  { ext: "bwsession", name: "Borewright session", mimeType: "application/x-borewright-session", role: "Editor" },
  { ext: "bwparcel", name: "Borewright parcel", mimeType: "application/x-borewright-parcel", role: "Viewer" },
];

/** The runtime brings a program of its own that runs whatever it is given; it has no business in an installed one. */
async function removeStartProgram(/** @type {{ appOutDir: string }} */ { appOutDir }) {
  for (const resources of ["resources", "Electron.app/Contents/Resources"])
    await rm(join(appOutDir, resources, "default_app.asar"), { force: true });
}

/**
 * @param {{ app: string, output: string, runtime: string, version: string }} places the staged program, where the
 * installers go, the folder of the unpacked Electron runtime and its version
 * @returns {import("electron-builder").Configuration}
 */
export function configOf({ app, output, runtime, version }) {
  return {
    appId: "org.borewright.bench",
    productName: "Borewright",
    copyright: "MIT licence",
    directories: { app, output, buildResources: icons },
    electronVersion: version,
    electronDist: runtime,
    electronFuses: FUSES,
    files: ["**/*"],
    // Of a package with a library in it, the library alone is taken out: the rest stays where its integrity is checked.
    asar: { smartUnpack: false },
    // A program library cannot be loaded from within an archive.
    asarUnpack: ["**/*.node"],
    // The binding ships prebuilt for every system; nothing is compiled and nothing is sent anywhere.
    npmRebuild: false,
    afterExtract: removeStartProgram,
    publish: null,
    removePackageScripts: true,
    electronLanguages: ["en", "en-US"],
    icon: `${icons}program.png`,
    fileAssociations: FILES.map((file) => ({ ...file, description: file.name, icon: `${icons}file` })),
    win: { target: ["nsis"], icon: `${icons}program.ico` },
    // For the one who installs it, who sees where.
    nsis: {
      oneClick: false,
      perMachine: false,
      allowToChangeInstallationDirectory: true,
      deleteAppDataOnUninstall: false,
    },
    mac: {
      target: ["dmg"],
      icon: `${icons}program.icns`,
      category: "public.app-category.utilities",
      hardenedRuntime: true,
      // Signed by whoever hands it out; unsigned where there is no certificate.
      gatekeeperAssess: false,
    },
    linux: {
      target: ["AppImage", "deb"],
      icon: `${icons}program.png`,
      category: "Engineering",
      synopsis: "Proves that every lifter bore fits its lifter",
      maintainer: "The makers of Borewright <borewright@localhost>",
    },
  };
}
