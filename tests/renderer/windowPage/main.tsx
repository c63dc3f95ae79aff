import { mountApp } from "../../../renderer/mountApp.tsx";
import type { Place } from "../../../renderer/store/place.ts";
import { receive, useStore } from "../../../renderer/store/store.ts";
import { SCENES } from "./scenes.ts";

/** The program's own window on a stand-in host, in one invented state: ?scene=…&place=…&theme=…&unit=… */
const asked = new URLSearchParams(location.search);
const scene = SCENES[asked.get("scene") ?? "first"];
if (scene === undefined) throw new Error(`no such scene; there are ${Object.keys(SCENES).join(", ")}`);

localStorage.setItem(
  "borewright.settings",
  JSON.stringify({ theme: asked.get("theme") ?? "light", unit: asked.get("unit") ?? "in" }),
);
const host = scene();
Object.assign(window, { host, receive, useStore });
mountApp(async () => host.bridge);
setTimeout(() => {
  host.begin();
  useStore.getState().actions.goTo((asked.get("place") ?? "Start") as Place);
  document.documentElement.dataset.ready = "true";
}, 50);
