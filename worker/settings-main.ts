import { settingsReference } from "./settings-reference.js";

process.stdout.write(settingsReference());
