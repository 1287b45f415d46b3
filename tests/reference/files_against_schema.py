# SPDX-License-Identifier: Apache-2.0
# Takes a schema and files as an editor's language server would: the schema against the metaschema
# of its draft, then each file (TOML, or an answer in JSON) against the schema. Prints what does not
# hold; exits 1 where any.
import json
import sys
import tomllib

import jsonschema

with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
kind = jsonschema.validators.validator_for(schema, default=None)
kind.check_schema(schema)
wrong = 0
for name in sys.argv[2:]:
    with open(name, "rb") as file:
        read = json.load if name.endswith(".json") else tomllib.load
        for error in kind(schema).iter_errors(read(file)):
            print(f"{name}: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")
            wrong = 1
sys.exit(wrong)
