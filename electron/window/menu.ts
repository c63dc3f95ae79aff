import type { MenuItemConstructorOptions } from "electron";

/** The menu: what a person at the bench wants of a window, and nothing that changes a session. */
export function menuTemplate(): MenuItemConstructorOptions[] {
  return [
    {
      label: "Bench",
      submenu: [
        { role: "togglefullscreen", label: "Whole screen" },
        { type: "separator" },
        { role: "zoomIn", label: "Larger" },
        { role: "zoomOut", label: "Smaller" },
        { role: "resetZoom", label: "Usual size" },
        { type: "separator" },
        { role: "quit", label: "Leave the bench" },
      ],
    },
    { role: "editMenu", label: "Text" },
  ];
}
