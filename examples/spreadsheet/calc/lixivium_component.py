"""The UNO component: the functions of lixivium_functions.py, as Calc calls them."""

import unohelper
from lixivium.calc import XFunctions

import lixivium_functions

def method(function):
    if function.gives_block:
        # Calc takes a block only as one; a single cell is a block of one.
        return lambda self, *arguments: as_block(function(*arguments))
    return lambda self, *arguments: function(*arguments)


def as_block(result):
    return result if isinstance(result, tuple) else ((result,),)


class Functions(unohelper.Base, XFunctions):
    def __init__(self, context):
        self.context = context


for name, function in lixivium_functions.FUNCTIONS.items():
    setattr(Functions, name, method(function))

g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(
    Functions, lixivium_functions.ADD_IN, ("com.sun.star.sheet.AddIn",)
)
