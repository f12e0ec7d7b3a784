"""What stands in one yard: roofs, downspouts, barrels, beds, plants, and what was seen and read there.

What lives here: the yard as records in canonical units (`model`), every key a yard file may hold, declared
once (`keys`), and the reader and editor of yard files (`file`), which tells every mistake in one go.
What does not: what rain or heat does to the yard (rooms `water` and `season`), and any fact of the trade: the
names of coverings, crops and soils come from the knowledge tables.

How a file becomes a yard: `file.read` takes the text through `syntax` (TOML or a plain message), `values`
(each value by its key's declaration), `checks` (do the places fit together), and builds the model; `lines`
finds the line of each fault, and only if there is one. `edit` changes a file in place.

Open first: `model.py`, then `keys.py`.
"""
