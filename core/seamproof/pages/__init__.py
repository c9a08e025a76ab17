"""The look of web pages, shared by everything that writes them: the frame, the style, safe names, data in pages."""
