"""One file per published layout, each turning lines of text into a `WeatherRecord`.

`weather/file.py` chooses the reader by looking into the file. Open `plain.py` first: it is the simplest.
"""
