import { settingsReference } from "../worker/settings-reference.js";
import { apiSettingsSchema } from "./config.js";

/** `npm run settings`: every setting of api and worker, from the schemas that check them. */
process.stdout.write(settingsReference({ "HTTP front": apiSettingsSchema }));
